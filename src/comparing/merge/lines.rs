//! Two people's edits of the lines of one card, put together line by line.

use super::parts::{Joined, join};
use crate::comparing::outline::{Line, PartKind, Role};
use crate::comparing::pairs::{Sibling, Slot, slots};

impl Sibling for Line {
    fn key(&self) -> String {
        format!("{:?} {}", self.role, self.key)
    }

    fn says(&self) -> String {
        Line::says(self)
    }

    fn may_become(&self, other: &Line) -> bool {
        match (self.role, other.role) {
            (Role::Row, Role::Row) => alike(self, other),
            (Role::Words, Role::Words) | (Role::Remark, Role::Remark) | (Role::Loose, Role::Loose) => true,
            _ => false,
        }
    }

    fn repeats(&self) -> bool {
        self.repeats
    }

    fn stage(&self) -> Option<Option<u32>> {
        None
    }
}

/// Whether two rows with different names say the same of them, for the most part.
fn alike(one: &Line, other: &Line) -> bool {
    let facts = |line: &Line| -> Vec<String> {
        let own = line.parts.iter().filter(|part| part.kind != PartKind::Name);
        let below = line.below.iter().map(Line::says);
        own.map(|part| part.says.clone()).chain(below).collect()
    };
    let (one, other) = (facts(one), facts(other));
    let shared = one.iter().filter(|fact| other.contains(fact)).count();
    shared > 0 && shared * 2 >= one.len().max(other.len())
}

/// What a merge writes: lines, and pairs of readings.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Piece {
    /// A line.
    Line(String),
    /// Two readings of the same lines; an empty one is of a side that took them out.
    Clash {
        /// The field or row, in words.
        about: String,
        /// Our reading.
        ours: Vec<String>,
        /// Their reading.
        theirs: Vec<String>,
    },
}

/// Where merged lines are written to.
pub struct Pen<'p> {
    /// What has been written.
    pub out: &'p mut Vec<Piece>,
    /// What the lines hang under, in words.
    pub about: String,
}

impl Pen<'_> {
    fn named(&self, line: &Line) -> String {
        let named = matches!(line.role, Role::Field | Role::Row) && !line.key.is_empty();
        match (named, self.about.is_empty()) {
            (true, true) => line.key.clone(),
            (true, false) => format!("{}, {}", self.about, line.key),
            (false, _) => self.about.clone(),
        }
    }

    fn write(&mut self, line: &Line) {
        let mut lines = Vec::new();
        line.written(&mut lines);
        self.out.extend(lines.into_iter().map(Piece::Line));
    }

    fn clash(&mut self, about: String, ours: Option<&Line>, theirs: Option<&Line>) {
        let written = |line: Option<&Line>| {
            let mut lines = Vec::new();
            if let Some(line) = line {
                line.written(&mut lines);
            }
            lines
        };
        self.out.push(Piece::Clash {
            about,
            ours: written(ours),
            theirs: written(theirs),
        });
    }
}

/// Writes what became of lines that stand side by side. False where the two sides want different orders, and
/// nothing is written.
pub fn merge(base: &[Line], ours: &[Line], theirs: &[Line], ordered: bool, pen: &mut Pen<'_>) -> bool {
    let Ok(found) = slots(base, ours, theirs, ordered) else {
        return false;
    };
    for Slot {
        base: was,
        ours: one,
        theirs: two,
    } in found
    {
        one_line(
            was.and_then(|at| base.get(at)),
            one.and_then(|at| ours.get(at)),
            two.and_then(|at| theirs.get(at)),
            pen,
        );
    }
    true
}

fn one_line(base: Option<&Line>, ours: Option<&Line>, theirs: Option<&Line>, pen: &mut Pen<'_>) {
    let same = |one: Option<&Line>, other: Option<&Line>| one.map(Line::says) == other.map(Line::says);
    match (base, ours, theirs) {
        (_, None, None) => {}
        (None, Some(only), None) | (None, None, Some(only)) => pen.write(only),
        (Some(base), None, Some(left)) => {
            if base.says() != left.says() {
                pen.clash(pen.named(base), None, Some(left));
            }
        }
        (Some(base), Some(left), None) => {
            if base.says() != left.says() {
                pen.clash(pen.named(base), Some(left), None);
            }
        }
        (base, Some(one), Some(two)) => {
            if same(ours, theirs) {
                // Where only the layout differs, whoever changed it is followed.
                let written = |line: &Line| {
                    let mut lines = Vec::new();
                    line.written(&mut lines);
                    lines
                };
                let kept = base.is_some_and(|base| written(base) == written(one));
                pen.write(if kept { two } else { one });
            } else if same(base, theirs) {
                pen.write(one);
            } else if same(base, ours) {
                pen.write(two);
            } else {
                both(base, one, two, pen);
            }
        }
    }
}

/// A line that both sides changed, each in its own way.
fn both(base: Option<&Line>, ours: &Line, theirs: &Line, pen: &mut Pen<'_>) {
    // Two rows of one name that two people added are two readings of one part.
    let twins = base.is_none() && ours.role == Role::Row;
    let before: &[Line] = base.map_or(&[], |base| &base.below);
    let ordered = ours.ordered || theirs.ordered;
    let mut inside = Vec::new();
    let mut pen_inside = Pen {
        out: &mut inside,
        about: pen.named(ours),
    };
    let own = match base {
        Some(base) if base.own() == theirs.own() => Joined::Clean(ours.text.clone()),
        Some(base) if base.own() == ours.own() => Joined::Clean(theirs.text.clone()),
        _ => join(base, ours, theirs),
    };
    let below = merge(before, &ours.below, &theirs.below, ordered, &mut pen_inside);
    let running = ours.is_running() || theirs.is_running();
    let clashes = |inside: &[Piece]| inside.iter().any(|piece| matches!(piece, Piece::Clash { .. }));
    // A paragraph is read as a whole, so it clashes as a whole.
    if twins || !below || running && (matches!(own, Joined::Clash(..)) || clashes(&inside)) {
        pen.clash(pen.named(ours), Some(ours), Some(theirs));
        return;
    }
    let gap = || (0..ours.gap).map(|_| Piece::Line(String::new()));
    match own {
        Joined::Empty(_) if inside.is_empty() => {}
        Joined::Clean(text) | Joined::Empty(text) => {
            pen.out.extend(gap());
            pen.out.push(Piece::Line(text));
        }
        Joined::Clash(one, two) => {
            pen.out.extend(gap());
            pen.out.push(Piece::Clash {
                about: pen.named(ours),
                ours: vec![one],
                theirs: vec![two],
            });
        }
    }
    pen.out.extend(inside);
}
