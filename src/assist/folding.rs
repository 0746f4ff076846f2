//! What can be folded away: cards, tables and blocks, running text over several lines.

use crate::catalogue::CardFile;
use crate::notation::tree::Row;
use crate::text::Span;

/// The stretches of a file that can be folded, in bytes of the file. Each spans at least two lines.
pub fn of_file(cards: &CardFile) -> Vec<Span> {
    let mut found = Vec::new();
    for (index, entry) in cards.entries.iter().enumerate() {
        let reading = entry.reading();
        let tree = &reading.tree;
        let mut add = |first: usize, last: usize| {
            let ends = (tree.lines.get(first), tree.lines.get(last));
            if let (Some(from), Some(to)) = ends
                && last > first
            {
                found.push(cards.in_file(index, Span::new(from.body.start, to.body.end)));
            }
        };
        if tree.head.is_some()
            && let (Some(head), Some(last)) = (
                tree.lines.iter().position(|line| !line.body.is_empty()),
                tree.lines.iter().rposition(|line| !line.body.is_empty()),
            )
        {
            add(head, last);
        }
        for field in &tree.fields {
            add(field.line, last_line(&field.rows, field.line));
            let mut open: Vec<&Row> = field.rows.iter().collect();
            while let Some(row) = open.pop() {
                add(row.line, last_line(&row.rows, row.line));
                open.extend(&row.rows);
            }
        }
    }
    found.sort_unstable();
    found.dedup();
    found
}

fn last_line(rows: &[Row], own: usize) -> usize {
    let mut last = own;
    let mut open: Vec<&Row> = rows.iter().collect();
    while let Some(row) = open.pop() {
        last = last.max(row.line);
        open.extend(&row.rows);
    }
    last
}
