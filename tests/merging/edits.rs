//! Edits of one file as people make them, each told by the lines of the first file that it touches.

use std::collections::{BTreeMap, BTreeSet};

use crate::draw::Draw;

/// What happens to one line.
#[derive(Debug, Clone)]
enum Change {
    /// Other words stand there.
    To(String),
    /// It is gone.
    Gone,
}

/// One person's edits of a file.
#[derive(Debug, Clone, Default)]
pub struct Edits {
    changes: BTreeMap<usize, Change>,
    /// Lines that come after a line.
    after: BTreeMap<usize, Vec<String>>,
    /// The cards in their new order, where somebody moved one.
    order: Option<Vec<usize>>,
    /// Whether all was laid out in another way.
    laid_out: bool,
    /// The lines of the first file that are touched.
    pub touched: BTreeSet<usize>,
    /// What was added to which card, by its first words.
    pub added: BTreeSet<(usize, String)>,
    /// What was done, to be read.
    pub told: Vec<String>,
}

/// A file in lines and cards.
pub struct Paper {
    pub lines: Vec<String>,
    /// The first line of each card.
    pub cards: Vec<usize>,
}

// Words that stand nowhere else, so that each can be counted.
const ITEMS: [&str; 4] = ["stomps", "swung", "whistles", "finger-snaps"];
const FIELDS: [&str; 8] = [
    "  wanted          springtime",
    "  liked           eighth-graders",
    "  tunes           ferryman",
    "  events          14",
    "  suits           hornists",
    "  notes           Unlock!",
    "  rehearsed       2019-02",
    "  features        trumpeters",
];
const ROWS: [(&str, &str); 5] = [
    ("percussion", "    triangle        5-20"),
    ("percussion", "    gong            3"),
    ("percussion", "    sleigh bells    9-12"),
    ("parts", "    bassoon         with tuba"),
    ("players", "    bassoon         2"),
];

impl Paper {
    pub fn of(text: &str) -> Paper {
        let lines: Vec<String> = text.lines().map(str::to_owned).collect();
        let heads = |line: &String| levare::notation::starts_entry(line);
        let mut cards: Vec<usize> = (0..lines.len()).filter(|at| heads(&lines[*at])).collect();
        if cards.first() != Some(&0) {
            cards.insert(0, 0);
        }
        Paper { lines, cards }
    }

    fn card_of(&self, line: usize) -> usize {
        self.cards
            .partition_point(|start| *start <= line)
            .saturating_sub(1)
    }

    pub fn lines_of(&self, card: usize) -> std::ops::Range<usize> {
        let end = self.cards.get(card + 1).copied().unwrap_or(self.lines.len());
        self.cards[card]..end
    }

    fn indent(&self, line: usize) -> Option<usize> {
        let words = self.lines[line].trim_start();
        (!words.is_empty()).then(|| self.lines[line].len() - words.len())
    }

    /// The blanks before the first line of a card that stands deeper than so much.
    fn lead(&self, card: usize, than: usize) -> Option<String> {
        let deeper = |line: &usize| self.indent(*line).is_some_and(|indent| indent > than);
        let at = self.lines_of(card).find(deeper)?;
        Some(self.lines[at].chars().take(self.indent(at)?).collect())
    }

    /// The line and all that stands deeper below it.
    fn with_rows(&self, line: usize) -> std::ops::Range<usize> {
        let own = self.indent(line).unwrap_or(0);
        let end = self.lines_of(self.card_of(line)).end;
        let mut last = line;
        for at in line + 1..end {
            match self.indent(at) {
                Some(indent) if indent <= own => break,
                Some(_) => last = at,
                None => {}
            }
        }
        line..last + 1
    }

    /// The lines above that the line hangs under, outermost last.
    fn above(&self, line: usize) -> Vec<usize> {
        let mut found = Vec::new();
        let mut own = self.indent(line).unwrap_or(0);
        for at in (self.lines_of(self.card_of(line)).start + 1..line).rev() {
            if let Some(indent) = self.indent(at).filter(|indent| *indent < own && *indent > 0) {
                own = indent;
                found.push(at);
            }
        }
        found
    }
}

impl Edits {
    /// Draws so many edits, of the lines in `zone`.
    pub fn draw(paper: &Paper, zone: &std::ops::Range<usize>, count: usize, draw: &mut Draw) -> Edits {
        let mut edits = Edits::default();
        for _ in 0..count {
            edits.one(paper, zone, draw);
        }
        edits
    }

    fn one(&mut self, paper: &Paper, zone: &std::ops::Range<usize>, draw: &mut Draw) {
        let line = zone.start + draw.below(zone.len());
        let card = paper.card_of(line);
        let Some(indent) = paper.indent(line) else { return };
        let field = indent > 0;
        let words = paper.lines[line].clone();
        match draw.below(100) {
            0..=39 if field => {
                // Another number, or one where none stood.
                let digits = words
                    .char_indices()
                    .filter(|(_, c)| c.is_ascii_digit() && *c != '9');
                let places: Vec<usize> = digits.map(|(at, _)| at).collect();
                if places.is_empty() {
                    return;
                }
                let at = *draw.one(&places);
                let mut new = words.clone();
                new.replace_range(at..=at, &format!("{}", 1 + draw.below(9)));
                if new != words {
                    self.set(line, Change::To(new), "a number on");
                }
            }
            40..=54 if field => {
                let item = draw.one(&ITEMS);
                self.set(line, Change::To(format!("{words}, {item}")), "an item more on");
            }
            55..=62 if field => {
                for line in paper.with_rows(line) {
                    self.set(line, Change::Gone, "taken out");
                }
            }
            63..=76 if paper.lines_of(card).start == paper.cards[card] => {
                let new = draw.one(&FIELDS).trim_start();
                let Some(lead) = paper.lead(card, 0) else { return };
                self.add(paper.cards[card], card, &format!("{lead}{new}"));
            }
            77..=84 => {
                let (table, row) = draw.one(&ROWS);
                let named = |line: &usize| {
                    let line = paper.lines[*line].trim();
                    line == *table
                };
                if let Some(at) = paper.lines_of(card).find(named) {
                    let under = paper.lines[at].len() - paper.lines[at].trim_start().len();
                    let Some(lead) = paper.lead(card, under) else {
                        return;
                    };
                    self.add(at, card, &format!("{lead}{}", row.trim_start()));
                    self.told.push(format!("below line {at}"));
                }
            }
            85..=88 if levare::notation::starts_entry(&words) && words.ends_with('"') => {
                let new = format!("{} Again\"", words.trim_end_matches('"'));
                self.set(line, Change::To(new), "another name on");
            }
            89..=92 => {
                let mut order: Vec<usize> = (0..paper.cards.len()).collect();
                // What stands above the first card stays there.
                if order.len() > 3 {
                    let moved = order.remove(1 + draw.below(order.len() - 1));
                    order.insert(1 + draw.below(order.len() - 1), moved);
                    self.order = Some(order);
                    self.told.push(format!("card {moved} moved"));
                }
            }
            93..=95 if card > 0 => {
                for line in paper.lines_of(card) {
                    self.set(line, Change::Gone, "the card taken out, line");
                }
                self.added.insert((card, "*".to_owned()));
            }
            96..=99 => {
                self.laid_out = true;
                self.told.push("laid out".to_owned());
            }
            _ => {}
        }
    }

    fn set(&mut self, line: usize, change: Change, what: &str) {
        self.told.push(format!("{what} line {line}"));
        self.touched.insert(line);
        self.changes.insert(line, change);
    }

    fn add(&mut self, after: usize, card: usize, words: &str) {
        let first: String = words.split_whitespace().take(1).collect();
        self.told.push(format!("{words:?} after line {after}"));
        self.added.insert((card, first));
        self.after.entry(after).or_default().push(words.to_owned());
    }

    /// The file with the edits made.
    pub fn made(&self, paper: &Paper) -> String {
        let cards = 0..paper.cards.len();
        let order = self.order.clone().unwrap_or_else(|| cards.collect());
        let mut out = String::new();
        for card in order {
            let mut text = String::new();
            for at in paper.lines_of(card) {
                match self.changes.get(&at) {
                    Some(Change::To(words)) => text.push_str(&format!("{words}\n")),
                    Some(Change::Gone) => {}
                    None => text.push_str(&format!("{}\n", paper.lines[at])),
                }
                let gone = matches!(self.changes.get(&at), Some(Change::Gone));
                for line in self.after.get(&at).into_iter().flatten().filter(|_| !gone) {
                    text.push_str(&format!("{line}\n"));
                }
            }
            if self.laid_out {
                text = wider(&text);
            }
            out.push_str(&text);
        }
        out
    }

    /// Whether the edits of two people may touch the same facts: a line that both changed, something one added to
    /// what the other took out, or the same thing added twice.
    pub fn meets(&self, other: &Edits, paper: &Paper) -> bool {
        let within = |line: &usize| -> Vec<usize> {
            let mut lines = paper.above(*line);
            // A paragraph is read as a whole.
            if let Some(top) = lines.last().copied().as_ref() {
                lines.extend(paper.with_rows(*top).filter(|_| is_text(&paper.lines[*top])));
            } else if is_text(&paper.lines[*line]) {
                lines.extend(paper.with_rows(*line));
            }
            lines.push(*line);
            lines
        };
        let gone = |edits: &Edits, line: usize| matches!(edits.changes.get(&line), Some(Change::Gone));
        let lines = self.touched.iter().any(|line| {
            within(line).iter().any(|at| {
                other.touched.contains(at)
                    && (at == line
                        || gone(other, *at)
                        || is_text(&paper.lines[*at])
                        || is_text(&paper.lines[*line]))
            })
        }) || other.touched.iter().any(|line| {
            within(line).iter().any(|at| {
                self.touched.contains(at)
                    && (at == line
                        || gone(self, *at)
                        || is_text(&paper.lines[*at])
                        || is_text(&paper.lines[*line]))
            })
        });
        let to_what_is_gone = |one: &Edits, two: &Edits| {
            one.after.keys().any(|at| gone(two, *at))
                || one
                    .added
                    .iter()
                    .any(|(card, first)| first == "*" && two.added.iter().any(|(other, _)| other == card))
        };
        // Who gives a card another name and changes what it says may leave too little to know it again by.
        let is_another = |one: &Edits, two: &Edits| {
            let of = |edits: &Edits, card: usize| -> usize {
                let lines = edits
                    .touched
                    .iter()
                    .filter(|line| paper.card_of(**line) == card)
                    .count();
                lines + edits.added.iter().filter(|(other, _)| *other == card).count()
            };
            let heads = one.touched.iter().filter(|line| paper.cards.contains(line));
            let mut cards = heads.map(|line| paper.card_of(*line));
            cards.any(|card| of(one, card) > 1 && of(two, card) > 0)
        };
        lines
            || is_another(self, other)
            || is_another(other, self)
            || self.added.intersection(&other.added).next().is_some()
            || to_what_is_gone(self, other)
            || to_what_is_gone(other, self)
    }
}

fn is_text(line: &str) -> bool {
    let words = line.trim_start();
    [
        "notes", "learned", "see", "subject", "stet", "comments", "lessons", "about",
    ]
    .iter()
    .any(|field| words.starts_with(field))
}

/// The same words with other blanks between them.
fn wider(text: &str) -> String {
    let mut out = String::new();
    for line in text.lines() {
        let words = line.trim_start();
        out.push_str(&" ".repeat((line.len() - words.len()) * 2));
        let mut blanks = 0;
        for c in words.chars() {
            match c {
                ' ' => blanks += 1,
                c => {
                    out.push_str(&" ".repeat(if blanks > 1 { 3 } else { blanks }));
                    blanks = 0;
                    out.push(c);
                }
            }
        }
        out.push('\n');
    }
    out
}
