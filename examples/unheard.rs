//! Prints what of a card nobody understood: `unheard FILE`.

use std::io::Write as _;

fn main() -> std::io::Result<()> {
    let path = std::env::args().nth(1).unwrap_or_default();
    let text = std::fs::read_to_string(path)?;
    let mut starts = levare::notation::split(&text);
    starts.push(text.len());
    let mut out = std::io::stdout();
    for ends in starts.windows(2) {
        let card = &text[ends[0]..ends[1]];
        let reading = levare::notation::read(card);
        for left in &reading.unheard {
            writeln!(out, "left over: {:?}", left.span.slice(card))?;
        }
        for field in &reading.fields {
            for row in field.rows() {
                let names: Vec<String> = row.row.names.iter().map(|name| name.one_form()).collect();
                let facts: Vec<String> = row.row.facts.iter().map(ToString::to_string).collect();
                writeln!(
                    out,
                    "{}: {names:?} {:?} {facts:?}",
                    field.name().unwrap_or(""),
                    row.row.count
                )?;
            }
            for item in field.items() {
                writeln!(
                    out,
                    "{}: {:?} partial {}",
                    field.name().unwrap_or(""),
                    item.one_form(),
                    item.partial
                )?;
            }
        }
    }
    Ok(())
}
