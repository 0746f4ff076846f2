//! What a question is answered with: heads, paragraphs, one thing after another, tables. The terminal sets them in
//! lines, a page in its own way; what is said is the same.

use super::set::{columns, lines, plain};

/// One stretch of an answer. Words may hold anything a card holds; whoever shows them makes them fit to be shown.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Said {
    /// What the next stretches are about.
    Head(String),
    /// A paragraph.
    Words(String),
    /// One of several things that belong to what stands above.
    Item(String),
    /// Rows of cells.
    Table(Table),
    /// Lines of a card, as they can be copied into a catalog.
    Card(Vec<String>),
    /// A pause.
    Gap,
}

/// Rows of cells below the heads of their columns.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Table {
    /// The columns, one cell of each row in each.
    pub columns: Vec<Column>,
    /// The rows.
    pub rows: Vec<Vec<String>>,
}

/// A column of a table.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Column {
    /// What stands above it; empty in all columns of a table without heads.
    pub head: &'static str,
    /// How wide it is where lines are set.
    pub wide: Wide,
    /// Whether its cells end below each other, as numbers do.
    pub right: bool,
}

/// How wide a column is, in columns of a terminal.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Wide {
    /// So much, or more where a cell needs it.
    Of(usize),
    /// As its widest cell.
    AsCells,
    /// What the others leave; its words are set in several lines where they must be. One column of a table at most.
    Rest,
}

/// A column without a head.
pub const fn column(wide: Wide, right: bool) -> Column {
    Column {
        head: "",
        wide,
        right,
    }
}

/// An answer, put together from its beginning to its end.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Answer {
    /// What was said.
    pub said: Vec<Said>,
}

impl Answer {
    /// What comes is about this.
    pub fn head(&mut self, words: impl Into<String>) {
        self.said.push(Said::Head(words.into()));
    }

    /// A paragraph.
    pub fn say(&mut self, words: impl Into<String>) {
        self.said.push(Said::Words(words.into()));
    }

    /// One of several things.
    pub fn item(&mut self, words: impl Into<String>) {
        self.said.push(Said::Item(words.into()));
    }

    /// A pause.
    pub fn gap(&mut self) {
        self.said.push(Said::Gap);
    }

    /// Rows of cells.
    pub fn table(&mut self, table: Table) {
        self.said.push(Said::Table(table));
    }

    /// Lines of a card.
    pub fn card(&mut self, lines: Vec<String>) {
        self.said.push(Said::Card(lines));
    }

    /// The answer in lines of at most `width` columns where words allow it.
    pub fn lines(&self, width: usize) -> Vec<Line> {
        let mut all = Vec::new();
        for said in &self.said {
            match said {
                Said::Head(words) => all.push(Line::head(plain(words))),
                Said::Words(words) => all.extend(lines(&plain(words), width, 0).into_iter().map(Line::of)),
                Said::Item(words) => {
                    let room = width.saturating_sub(4);
                    let set = lines(&plain(words), room, 0).into_iter().enumerate();
                    all.extend(set.map(|(at, line)| Line::of(format!("{}{line}", indent(at)))));
                }
                Said::Table(table) => all.extend(table.lines(width).into_iter().map(Line::of)),
                Said::Card(card) => {
                    let mut card = card.iter().map(|line| plain(line));
                    all.extend(card.next().map(Line::head));
                    all.extend(card.map(Line::of));
                }
                Said::Gap => all.push(Line::of(String::new())),
            }
        }
        all
    }
}

/// A line that was set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Line {
    /// Its words.
    pub words: String,
    /// Whether a reader looks for it.
    pub is_head: bool,
}

impl Line {
    fn of(words: String) -> Line {
        Line {
            words,
            is_head: false,
        }
    }

    fn head(words: String) -> Line {
        Line { words, is_head: true }
    }
}

/// The blanks before the first line of something, and before the ones below it.
fn indent(at: usize) -> &'static str {
    if at == 0 { "  " } else { "    " }
}

/// The words with blanks before or behind them up to a width.
fn padded(words: &str, width: usize, right: bool) -> String {
    let blanks = " ".repeat(width.saturating_sub(columns(words)));
    if right {
        format!("{blanks}{words}")
    } else {
        format!("{words}{blanks}")
    }
}

/// Blanks between two columns.
const BETWEEN: &str = "  ";
/// Fewer columns than this are not worth setting words in.
const LEAST: usize = 20;

impl Table {
    /// The heads, if the table has any, and the rows.
    fn lines(&self, width: usize) -> Vec<String> {
        let heads: Vec<String> = self.columns.iter().map(|one| one.head.to_owned()).collect();
        let heads = heads.iter().any(|head| !head.is_empty()).then_some(heads);
        let rows: Vec<Vec<String>> = heads
            .iter()
            .chain(&self.rows)
            .map(|row| row.iter().map(|cell| plain(cell)).collect())
            .collect();
        let wide: Vec<usize> = (self.columns.iter().enumerate())
            .map(|(at, column)| match column.wide {
                Wide::Of(wide) => wide,
                Wide::AsCells => rows
                    .iter()
                    .filter_map(|row| row.get(at))
                    .map(|cell| columns(cell))
                    .max()
                    .unwrap_or(0),
                Wide::Rest => 0,
            })
            .collect();
        let rest = self.columns.iter().position(|column| column.wide == Wide::Rest);
        rows.iter()
            .flat_map(|row| self.row(row, &wide, rest, width))
            .collect()
    }

    fn row(&self, row: &[String], wide: &[usize], rest: Option<usize>, width: usize) -> Vec<String> {
        let cells = |from: usize, to: usize| -> Vec<String> {
            (from..to.min(row.len()))
                .filter_map(|at| Some(padded(row.get(at)?, *wide.get(at)?, self.columns.get(at)?.right)))
                .collect()
        };
        let Some(rest) = rest else {
            return vec![
                format!("  {}", cells(0, row.len()).join(BETWEEN))
                    .trim_end()
                    .to_owned(),
            ];
        };
        let mut before = "  ".to_owned();
        for cell in cells(0, rest) {
            before.push_str(&cell);
            before.push_str(BETWEEN);
        }
        let after = cells(rest + 1, row.len()).join(BETWEEN);
        // Lines below the first stand two columns deeper; what comes behind keeps two from the edge.
        let deep = columns(&before) + 2;
        let behind = if after.is_empty() { 0 } else { columns(&after) + 2 };
        let room = width.saturating_sub(deep + behind).max(LEAST);
        let set = lines(row.get(rest).map_or("", String::as_str), room, 0);
        let last = set.len().saturating_sub(1);
        (set.iter().enumerate())
            .map(|(at, line)| {
                let start = if at == 0 { before.clone() } else { " ".repeat(deep) };
                let line = format!("{start}{line}");
                match at == last && !after.is_empty() {
                    true => format!("{}{after}", padded(&line, deep + room, false)),
                    false => line.trim_end().to_owned(),
                }
            })
            .collect()
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn set(answer: &Answer, width: usize) -> String {
        let lines: Vec<String> = answer.lines(width).into_iter().map(|line| line.words).collect();
        lines.join("\n")
    }

    #[test]
    fn long_cells_are_set_in_lines_and_prices_end_below_each_other() {
        let mut answer = Answer::default();
        answer.table(Table {
            columns: vec![column(Wide::Rest, false), column(Wide::Of(12), true)],
            rows: vec![
                vec![
                    "\"A Long Road Through the Northern Hills\", the set".to_owned(),
                    "64 USD".to_owned(),
                ],
                vec!["postage".to_owned(), "8 USD".to_owned()],
            ],
        });
        assert_eq!(
            set(&answer, 44),
            "  \"A Long Road Through the\n    Northern Hills\", the set        64 USD\n  postage                            8 USD"
        );
    }

    #[test]
    fn heads_stand_above_columns_and_nothing_trails() {
        let mut answer = Answer::default();
        answer.table(Table {
            columns: vec![
                Column {
                    head: "week of",
                    wide: Wide::Of(10),
                    right: false,
                },
                Column {
                    head: "in hand",
                    wide: Wide::Rest,
                    right: false,
                },
            ],
            rows: vec![
                vec!["2026-11-02".to_owned(), "ties".to_owned()],
                vec!["3 weeks".to_owned(), String::new()],
            ],
        });
        answer.table(Table {
            columns: vec![
                column(Wide::AsCells, false),
                column(Wide::Of(5), true),
                column(Wide::AsCells, false),
            ],
            rows: vec![
                vec!["Gravel Road".to_owned(), "3:05".to_owned(), "kept".to_owned()],
                vec!["Sand".to_owned(), "?".to_owned(), String::new()],
            ],
        });
        assert_eq!(
            set(&answer, 60),
            "  week of     in hand\n  2026-11-02  ties\n  3 weeks\n  Gravel Road   3:05  kept\n  Sand             ?"
        );
    }

    #[test]
    fn words_of_cards_are_made_fit_to_be_shown() {
        let mut answer = Answer::default();
        answer.head("a\u{1b}[2Jb");
        answer.item("c\u{202e}d");
        answer.card(vec!["concert \"x\u{7}\"".to_owned()]);
        assert!(
            !set(&answer, 80)
                .chars()
                .any(|c| c.is_control() && c != '\n' || c == '\u{202e}')
        );
    }
}
