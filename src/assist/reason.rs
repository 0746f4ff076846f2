//! A rule's page as text for an editor.

use crate::findings::Rule;
use crate::findings::page::{self, Example};

/// The whole page, in Markdown.
pub fn page(rule: &Rule) -> String {
    let page = page::parse(rule.page);
    let mut text = format!(
        "# {}\n\nShown as: {}.\n\n{}\n\n## Why it matters\n\n{}\n",
        rule.phrase,
        rule.severity,
        page.notices.trim(),
        page.why.trim()
    );
    for (heading, examples) in [("Draws it", &page.draws), ("Does not", &page.does_not)] {
        if !examples.is_empty() {
            text.push_str(&format!("\n## {heading}\n"));
        }
        for Example { text: example, .. } in examples {
            text.push_str(&format!("\n```levare\n{}\n```\n", example.trim_end()));
        }
    }
    text.push_str(&format!("\n## What to do\n\n{}\n", page.todo.trim()));
    text
}

/// What fits a small window.
pub fn short(rule: &Rule) -> String {
    let page = page::parse(rule.page);
    let one = |words: &str| words.split_whitespace().collect::<Vec<_>>().join(" ");
    format!(
        "{}: {} Why: {} What to do: {}",
        rule.phrase,
        one(&page.notices),
        one(&page.why),
        one(&page.todo)
    )
}
