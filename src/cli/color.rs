//! Whether and how words are colored.

use std::io::IsTerminal;

use anstyle::{AnsiColor, Style};
use clap::ValueEnum;

use crate::findings::Severity;

/// When to color.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum When {
    /// On a terminal, unless NO_COLOR says no or CLICOLOR_FORCE says yes
    #[default]
    Auto,
    /// Also into a file or another program
    Always,
    /// Not at all
    Never,
}

impl When {
    /// Decides for standard output. The variables are those of <https://no-color.org> and
    /// <https://bixense.com/clicolors>: set and not empty (for CLICOLOR_FORCE also not `0`).
    pub fn decide(self) -> bool {
        let said = |name: &str| std::env::var_os(name).filter(|value| !value.is_empty());
        match self {
            When::Always => true,
            When::Never => false,
            When::Auto => {
                said("NO_COLOR").is_none()
                    && (said("CLICOLOR_FORCE").is_some_and(|value| value != "0")
                        || std::io::stdout().is_terminal() && said("TERM").is_none_or(|kind| kind != "dumb"))
            }
        }
    }
}

/// Inks, or none.
#[derive(Debug, Clone, Copy)]
pub struct Paint {
    on: bool,
}

impl Paint {
    /// Colors only when `on`.
    pub fn new(on: bool) -> Paint {
        Paint { on }
    }

    fn ink(self, style: Style, words: &str) -> String {
        if self.on && !words.is_empty() {
            format!("{style}{words}{style:#}")
        } else {
            words.to_owned()
        }
    }

    /// The name of a card, and other words that a reader looks for.
    pub fn bold(self, words: &str) -> String {
        self.ink(Style::new().bold(), words)
    }

    /// Words for those who want to know.
    pub fn quiet(self, words: &str) -> String {
        self.ink(Style::new().dimmed(), words)
    }

    /// Words at the margin.
    pub fn margin(self, words: &str) -> String {
        self.ink(AnsiColor::Cyan.on_default(), words)
    }

    /// What goes away.
    pub fn old(self, words: &str) -> String {
        self.ink(AnsiColor::Red.on_default(), words)
    }

    /// What comes.
    pub fn new_words(self, words: &str) -> String {
        self.ink(AnsiColor::Green.on_default(), words)
    }

    /// Words as strong as a finding.
    pub fn strength(self, severity: Severity, words: &str) -> String {
        let style = match severity {
            Severity::Error => AnsiColor::Red.on_default().bold(),
            Severity::Warning => AnsiColor::Yellow.on_default().bold(),
            Severity::Information => AnsiColor::Blue.on_default().bold(),
            Severity::Hint => AnsiColor::Magenta.on_default(),
        };
        self.ink(style, words)
    }
}
