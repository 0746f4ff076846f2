//! `levare reason`: a rule's page, or the list of all rules.

use std::io::{self, Write};
use std::sync::Arc;

use serde::Serialize;

use super::args::{Reason, ReasonForm};
use super::color::Paint;
use super::report::drawing::{MARGIN, Manner, Mark, draw};
use super::report::{Place, lines};
use super::room::Sheet;
use super::wrap::{self, columns, plain};
use super::{Status, complain};
use crate::findings::page::{self, Example};
use crate::findings::{self, Family, RULES, Rule};
use crate::text::Lines;

#[derive(Serialize)]
struct RuleLine {
    about: &'static str,
    phrase: &'static str,
    family: &'static str,
    severity: &'static str,
    notices: String,
    why: String,
    todo: String,
    draws: Vec<String>,
    does_not: Vec<String>,
}

/// Runs the command.
pub fn run(asked: &Reason, paint: Paint, out: &mut dyn Write) -> io::Result<Status> {
    let phrase = asked.phrase.join(" ");
    let chosen: Vec<&Rule> = if phrase.trim().is_empty() {
        RULES.to_vec()
    } else {
        match findings::find(&phrase) {
            Some(rule) => vec![rule],
            None => {
                complain(&unknown(&phrase));
                return Ok(Status::CouldNot);
            }
        }
    };
    match (asked.form, chosen.as_slice()) {
        (ReasonForm::Json, rules) => {
            for rule in rules {
                lines::line(&rule_line(rule), out)?;
            }
        }
        (ReasonForm::Cards, [rule]) if !phrase.trim().is_empty() => {
            Teller::new(paint, out).page(rule)?;
        }
        (ReasonForm::Cards, rules) => Teller::new(paint, out).list(rules)?,
    }
    Ok(Status::Nothing)
}

fn unknown(phrase: &str) -> String {
    let near = findings::nearest(phrase).map_or(String::new(), |near| format!(" Perhaps \"{near}\"?"));
    format!("No finding is called \"{phrase}\".{near} \"levare reason\" alone lists them all.")
}

/// What a page notices, to its first period. One within `D.S.` ends nothing.
fn first_sentence(text: &str) -> &str {
    let mut ends = text.match_indices(". ").map(|(at, _)| at);
    let end = ends.find(|at| {
        let before = text.get(..*at).and_then(|before| before.chars().next_back());
        let after = text
            .get(at.saturating_add(2)..)
            .and_then(|after| after.chars().next());
        before.is_some_and(|c| !c.is_uppercase()) && after.is_some_and(|c| c.is_uppercase() || c == '(')
    });
    end.and_then(|end| text.get(..=end)).unwrap_or(text).trim()
}

fn rule_line(rule: &Rule) -> RuleLine {
    let page = page::parse(rule.page);
    let texts = |examples: Vec<Example>| examples.into_iter().map(|example| example.text).collect();
    RuleLine {
        about: "rule",
        phrase: rule.phrase,
        family: rule.family.word(),
        severity: rule.severity.word(),
        notices: page.notices.trim().to_owned(),
        why: page.why.trim().to_owned(),
        todo: page.todo.trim().to_owned(),
        draws: texts(page.draws),
        does_not: texts(page.does_not),
    }
}

struct Teller<'o> {
    width: usize,
    paint: Paint,
    out: &'o mut dyn Write,
}

impl<'o> Teller<'o> {
    fn new(paint: Paint, out: &'o mut dyn Write) -> Self {
        Teller {
            width: wrap::width(),
            paint,
            out,
        }
    }

    /// All rules by family, one line each where it fits.
    fn list(&mut self, rules: &[&Rule]) -> io::Result<()> {
        let widest = rules.iter().map(|rule| rule.phrase.len()).max().unwrap_or(0);
        let column = widest.saturating_add(4);
        for family in Family::ALL {
            let mut ours = rules.iter().filter(|rule| rule.family == family).peekable();
            if ours.peek().is_none() {
                continue;
            }
            writeln!(self.out, "{}", self.paint.bold(family.word()))?;
            for rule in ours {
                let notices = page::parse(rule.page).notices;
                let first = first_sentence(&notices);
                let set = wrap::lines(
                    &plain(&first.replace('`', "\"")),
                    self.width.saturating_sub(column),
                    0,
                );
                for (index, line) in set.iter().enumerate() {
                    let phrase = if index == 0 { rule.phrase } else { "" };
                    let blanks = column.saturating_sub(2).saturating_sub(phrase.len());
                    let phrase = self.paint.strength(rule.severity, phrase);
                    writeln!(self.out, "  {phrase}{:blanks$}{line}", "")?;
                }
            }
            writeln!(self.out)?;
        }
        let closing = "For the whole page of one: levare reason and its name, such as levare reason";
        let example = rules.first().map_or("", |rule| rule.phrase);
        for line in wrap::lines(&format!("{closing} {example}."), self.width, 0) {
            writeln!(self.out, "{line}")?;
        }
        Ok(())
    }

    /// One rule's page, as a colleague would tell it: what is said and why, a card that draws it, one that may
    /// stand, what to do, and what if it is right.
    fn page(&mut self, rule: &Rule) -> io::Result<()> {
        let page = page::parse(rule.page);
        let family = format!("{} · {}", rule.family.word(), rule.severity);
        let used = columns(rule.phrase).saturating_add(columns(&family));
        let between = self.width.saturating_sub(used).max(2);
        writeln!(
            self.out,
            "{}{:between$}{}",
            self.paint.bold(rule.phrase),
            "",
            self.paint.quiet(&family)
        )?;
        writeln!(self.out, "{}\n", self.paint.margin(&"─".repeat(self.width)))?;
        self.words(&page.notices)?;
        self.words(&page.why)?;
        let draws = if page.draws.len() > 1 {
            "On cards such as these"
        } else {
            "On a card such as this"
        };
        self.words(&format!("{draws} it is said of the words in the ring."))?;
        for example in &page.draws {
            self.example(rule, example)?;
        }
        let stands = if page.does_not.len() > 1 {
            "These may stand as they are."
        } else {
            "This one may stand as it is."
        };
        self.words(stands)?;
        for example in &page.does_not {
            self.example(rule, example)?;
        }
        self.words(&page.words)?;
        for (index, words) in paragraphs(&page.todo).enumerate() {
            self.words(&if index == 0 {
                format!("☐ {words}")
            } else {
                words.to_owned()
            })?;
        }
        self.words(&format!(
            "If your card is right as it is, write on it: stet {} because ... and why. To hear it more quietly or more loudly everywhere, write a line such as this in the handbook: hint {}.",
            rule.phrase, rule.phrase
        ))
    }

    /// An example's lines, with a ring around what is marked.
    fn example(&mut self, rule: &Rule, example: &Example) -> io::Result<()> {
        let sheet = Sheet {
            shown: String::new(),
            read: None,
            text: example.text.clone().into(),
            asked: false,
        };
        let lines = Arc::new(Lines::of(&sheet.text));
        for line in 0..lines.line_count() {
            let span = lines.line_span(line);
            let marked: Vec<Place<'_>> = example
                .marks
                .iter()
                .filter(|mark| lines.line_at(mark.start) == line)
                .map(|mark| Place {
                    sheet: &sheet,
                    lines: Arc::clone(&lines),
                    span: *mark,
                })
                .collect();
            if marked.is_empty() {
                let words = plain(span.slice(&sheet.text));
                if line.saturating_add(1) < lines.line_count() || !words.is_empty() {
                    writeln!(self.out, "{}", format!("{:MARGIN$}{words}", "").trim_end())?;
                }
                continue;
            }
            let marks: Vec<Mark<'_, '_>> = marked.iter().map(|place| Mark { place, ringed: true }).collect();
            let manner = Manner {
                width: self.width,
                severity: rule.severity,
                paint: self.paint,
            };
            for row in draw(&marks, manner) {
                writeln!(self.out, "{row}")?;
            }
        }
        writeln!(self.out)
    }

    /// Paragraphs with a blank line after each.
    fn words(&mut self, words: &str) -> io::Result<()> {
        for paragraph in paragraphs(words) {
            for line in wrap::lines(&plain(&paragraph.replace('`', "\"")), self.width, 0) {
                writeln!(self.out, "{line}")?;
            }
            writeln!(self.out)?;
        }
        Ok(())
    }
}

fn paragraphs(words: &str) -> impl Iterator<Item = &str> {
    words.split("\n\n").filter(|words| !words.trim().is_empty())
}
