//! A sheet for a count of the library: every part of every set with what its card says, and a box to write in.

use jiff::civil::Date;

use crate::planning::library::sheet::Row;

use super::paper::{Area, Face, Paper, Sheet, page};

/// What is printed.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct CountPage {
    /// What stands above every sheet.
    pub title: String,
    /// The sets.
    pub sets: Vec<CountSet>,
}

/// A set.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct CountSet {
    /// Its title.
    pub title: String,
    /// Where it is; empty where no card says so.
    pub place: String,
    /// Each part, with the count on the card; empty where there is none.
    pub parts: Vec<(String, String)>,
}

/// The edge that printers leave white, in points; common practice, no source.
const EDGE: f64 = 30.0;
/// Columns on a sheet, and the blank between two of them.
const COLUMNS: usize = 3;
const GAP: f64 = 20.0;
/// The heights of a part's row, of a set's head, and of the title.
const ROW: f64 = 17.0;
const HEAD: f64 = 34.0;
const TITLE: f64 = 30.0;
/// How wide the box is, and the count on the card beside it.
const BOX: f64 = 44.0;
const CARD: f64 = 30.0;

/// Takes the sheet's rows, those of a set one after another.
pub fn of_rows(rows: &[Row], today: Date) -> CountPage {
    let mut sets: Vec<CountSet> = Vec::new();
    let mut last = None;
    for row in rows {
        if last != Some(row.id) {
            sets.push(CountSet {
                title: row.piece.clone(),
                place: row.place.clone(),
                parts: Vec::new(),
            });
            last = Some(row.id);
        }
        let count = row.on_the_card.map(|count| count.to_string()).unwrap_or_default();
        if let Some(set) = sets.last_mut() {
            set.parts.push((row.part.clone(), count));
        }
    }
    CountPage {
        title: format!("Count of the library, {today}"),
        sets,
    }
}

/// A column with room left.
struct Column {
    sheet: usize,
    column: usize,
    y: f64,
}

/// Lays the sets out, column by column.
pub fn sheets(count: &CountPage, paper: Paper) -> Vec<Sheet> {
    let (wide, high) = paper.size();
    let whole = Area::new(0.0, 0.0, wide, high).within(EDGE);
    let each = (whole.wide - GAP * (COLUMNS as f64 - 1.0)) / COLUMNS as f64;
    let top = whole.y + TITLE;
    let mut all = vec![Sheet::new(paper)];
    let mut at = Column {
        sheet: 0,
        column: 0,
        y: top,
    };
    let next = |at: &mut Column, all: &mut Vec<Sheet>| {
        at.column += 1;
        at.y = top;
        if at.column == COLUMNS {
            at.column = 0;
            at.sheet += 1;
            all.push(Sheet::new(paper));
        }
    };
    for set in &count.sets {
        // A head stands above two rows at least.
        if at.y + HEAD + ROW * set.parts.len().min(2) as f64 > whole.bottom() && at.y > top {
            next(&mut at, &mut all);
        }
        let place = |at: &Column| whole.x + at.column as f64 * (each + GAP);
        if let Some(sheet) = all.get_mut(at.sheet) {
            head(sheet, set, Area::new(place(&at), at.y, each, HEAD), false);
        }
        at.y += HEAD;
        for (part, on_card) in &set.parts {
            if at.y + ROW > whole.bottom() {
                next(&mut at, &mut all);
                if let Some(sheet) = all.get_mut(at.sheet) {
                    head(sheet, set, Area::new(place(&at), at.y, each, HEAD), true);
                }
                at.y += HEAD;
            }
            if let Some(sheet) = all.get_mut(at.sheet) {
                row(sheet, part, on_card, Area::new(place(&at), at.y, each, ROW));
            }
            at.y += ROW;
        }
        at.y += ROW / 2.0;
    }
    let number = all.len();
    for (sheet, at) in all.iter_mut().zip(1..) {
        sheet.words(
            whole.x,
            whole.y + 13.0,
            Face::bold(14.0),
            &count.title,
            whole.wide * 0.7,
        );
        let words = format!("sheet {at} of {number}");
        sheet.words_before(
            whole.right(),
            whole.y + 13.0,
            Face::plain(9.0),
            &words,
            whole.wide * 0.25,
        );
        sheet.rule((whole.x, whole.y + 19.0), (whole.right(), whole.y + 19.0), 1.0);
    }
    all
}

fn head(sheet: &mut Sheet, set: &CountSet, area: Area, again: bool) {
    let title = match again {
        true => format!("{} (goes on)", set.title),
        false => set.title.clone(),
    };
    sheet.words(area.x, area.y + 12.0, Face::bold(10.5), &title, area.wide);
    if !set.place.is_empty() {
        sheet.words(
            area.x,
            area.y + 25.0,
            Face::plain(8.5),
            &set.place,
            area.wide - BOX - CARD - 4.0,
        );
    }
    let small = Face::plain(7.5);
    sheet.words_before(area.right() - BOX - 8.0, area.y + 25.0, small, "on card", CARD);
    sheet.words_before(area.right(), area.y + 25.0, small, "counted", BOX);
}

fn row(sheet: &mut Sheet, part: &str, on_card: &str, area: Area) {
    let words = area.wide - BOX - CARD - 12.0;
    sheet.words(area.x, area.y + 12.0, Face::plain(10.0), part, words);
    sheet.words_before(
        area.right() - BOX - 8.0,
        area.y + 12.0,
        Face::plain(10.0),
        on_card,
        CARD,
    );
    sheet.frame(
        Area::new(area.right() - BOX, area.y + 1.0, BOX, ROW - 3.0),
        0.8,
        0.0,
    );
    sheet.rule(
        (area.x, area.y + ROW - 1.0),
        (area.right() - BOX - 6.0, area.y + ROW - 1.0),
        0.4,
    );
}

/// The whole page.
pub fn html(count: &CountPage, paper: Paper) -> String {
    page(&count.title, paper, &sheets(count, paper))
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::pages::checked;

    fn counting(sets: usize, parts: usize) -> CountPage {
        let part = |at: usize| (format!("clarinet {at}"), at.to_string());
        let set = |at: usize| CountSet {
            title: format!("A title of some length, the {at}th"),
            place: "cabinet 3, no. 142".to_owned(),
            parts: (0..parts).map(part).collect(),
        };
        CountPage {
            title: "Count of the library, 2026-10-20".to_owned(),
            sets: (0..sets).map(set).collect(),
        }
    }

    #[test]
    fn no_words_meet_and_all_parts_are_there() {
        for (sets, parts) in [(0, 0), (1, 3), (5, 12), (2, 90), (40, 1)] {
            let count = counting(sets, parts);
            for paper in [Paper::Letter, Paper::A4] {
                let all = sheets(&count, paper);
                let mut found = 0;
                for sheet in &all {
                    let words = checked::words(sheet);
                    found += words
                        .iter()
                        .filter(|(_, words)| words.starts_with("clarinet"))
                        .count();
                    for (at, (area, one)) in words.iter().enumerate() {
                        let size = Area::new(0.0, 0.0, sheet.size.0, sheet.size.1);
                        assert!(size.holds(area), "{one} leaves the sheet");
                        let meets = words.iter().skip(at + 1).find(|(other, _)| area.meets(other));
                        assert_eq!(meets, None, "{one}");
                    }
                }
                assert_eq!(found, sets * parts, "{sets} sets of {parts}");
            }
            assert_eq!(
                checked::faults(&html(&count, Paper::Letter)),
                Vec::<String>::new()
            );
        }
    }
}
