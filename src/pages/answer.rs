//! An answer as a page: what the terminal sets in lines, as headings, paragraphs, lists and tables that a browser
//! shows, reads aloud and prints.

use crate::text::said::{Answer, Said, Table, Wide};

use super::paper::{BY_LEVARE, Paper, escaped};

/// Writes an answer out as one page. It holds all it needs and runs nothing.
pub fn html(about: &str, answer: &Answer, paper: Paper) -> String {
    // Pages for walls lie on their side; what is read stands upright.
    let (high, wide) = paper.css();
    let title = escaped(about);
    let mut out = format!(
        "<!DOCTYPE html>\n<html lang=\"en\">\n<head>\n<meta charset=\"utf-8\"/>\n{BY_LEVARE}<title>{title}</title>\n\
         <style>\n@page {{ size: {wide} {high}; margin: 18mm }}\n\
         body {{ margin: 0 auto; max-width: 44em; padding: 1em; background: #fff; color: #000; line-height: 1.4;\n\
         font-family: \"Liberation Sans\", Arial, Helvetica, sans-serif }}\n\
         h1 {{ font-size: 1.4em; margin: 0 0 .6em }}\nh2 {{ font-size: 1.1em; margin: 1.2em 0 .4em }}\n\
         p, ul {{ margin: .5em 0 }}\nul {{ padding-left: 1.2em }}\ntable {{ border-collapse: collapse; margin: .5em 0 }}\n\
         th, td {{ text-align: left; vertical-align: top; padding: .15em 1.2em .15em 0; border-bottom: 1px solid #ccc }}\n\
         .number, .short {{ white-space: nowrap }}\ntd.number, th.number {{ text-align: right }}\npre {{ white-space: pre-wrap; font-size: .95em }}\n\
         h2, tr {{ break-inside: avoid; break-after: auto }}\n@media print {{ body {{ padding: 0; max-width: none }} }}\n\
         </style>\n</head>\n<body>\n<h1>{title}</h1>\n"
    );
    let mut listed = false;
    for said in &answer.said {
        let is_item = matches!(said, Said::Item(_));
        if is_item != listed {
            out.push_str(if is_item { "<ul>\n" } else { "</ul>\n" });
            listed = is_item;
        }
        match said {
            // What the page is about stands above it already.
            Said::Head(words) if words == about => {}
            Said::Head(words) => element(&mut out, "h2", words),
            Said::Words(words) => element(&mut out, "p", words),
            Said::Item(words) => element(&mut out, "li", words),
            Said::Table(rows) => table(&mut out, rows),
            Said::Card(lines) => element(&mut out, "pre", &lines.join("\n")),
            Said::Gap => {}
        }
    }
    if listed {
        out.push_str("</ul>\n");
    }
    out.push_str("</body>\n</html>\n");
    out
}

fn element(out: &mut String, name: &str, words: &str) {
    // What is printed replaces the ends of lines; those of a card stay.
    let lines: Vec<String> = words.split('\n').map(escaped).collect();
    out.push_str(&format!("<{name}>{}</{name}>\n", lines.join("\n")));
}

fn table(out: &mut String, table: &Table) {
    out.push_str("<table>\n");
    let cells = |out: &mut String, name: &str, row: &[&str]| {
        out.push_str("<tr>");
        for (cell, column) in row.iter().zip(&table.columns) {
            let class = match (column.right, column.wide) {
                (true, _) => " class=\"number\"",
                (false, Wide::Of(_)) => " class=\"short\"",
                _ => "",
            };
            let scope = if name == "th" { " scope=\"col\"" } else { "" };
            out.push_str(&format!("<{name}{scope}{class}>{}</{name}>", escaped(cell)));
        }
        out.push_str("</tr>\n");
    };
    let heads: Vec<&str> = table.columns.iter().map(|column| column.head).collect();
    if heads.iter().any(|head| !head.is_empty()) {
        cells(out, "th", &heads);
    }
    for row in &table.rows {
        let row: Vec<&str> = row.iter().map(String::as_str).collect();
        cells(out, "td", &row);
    }
    out.push_str("</table>\n");
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::text::said::column;

    #[test]
    fn nothing_a_card_holds_becomes_markup_and_lists_are_closed() {
        let nasty = "</ul><img src=x onerror=hurt()>\u{202e}";
        let mut answer = Answer::default();
        answer.head(nasty);
        answer.item(nasty);
        answer.item("another");
        answer.say(nasty);
        answer.table(Table {
            columns: vec![column(Wide::Rest, false), column(Wide::Of(5), true)],
            rows: vec![vec![nasty.to_owned(), "3:05".to_owned()]],
        });
        answer.card(vec![format!("concert \"{nasty}\""), "  program".to_owned()]);
        answer.item("the last");
        let page = html(nasty, &answer, Paper::Letter);
        assert!(!page.contains("<img"), "{page}");
        assert_eq!(page.matches("<ul>").count(), 2);
        assert_eq!(page.matches("</ul>").count(), 2);
        assert!(page.contains("&quot;\n  program</pre>"), "{page}");
        assert!(page.contains("<td class=\"number\">3:05</td>"), "{page}");
    }
}
