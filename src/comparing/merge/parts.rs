//! Two people's edits of one line, put together part by part.

use crate::comparing::outline::{Line, Part, PartKind, Role};
use crate::comparing::pairs::{Sibling, Slot, slots};

impl Sibling for Part {
    fn key(&self) -> String {
        format!("{:?} {}", self.kind, self.key)
    }

    fn says(&self) -> String {
        self.says.clone()
    }

    fn may_become(&self, other: &Part) -> bool {
        self.kind == other.kind && self.kind == PartKind::Said
    }

    fn repeats(&self) -> bool {
        false
    }

    fn stage(&self) -> Option<Option<u32>> {
        None
    }
}

/// A part that is a stage of a value.
#[derive(Clone)]
struct Stage(Part);

impl Sibling for Stage {
    fn key(&self) -> String {
        self.0.key()
    }

    fn says(&self) -> String {
        self.0.says()
    }

    fn may_become(&self, other: &Stage) -> bool {
        self.0.may_become(&other.0)
    }

    fn repeats(&self) -> bool {
        false
    }

    fn stage(&self) -> Option<Option<u32>> {
        Some(self.0.measure)
    }
}

/// What became of one line that both sides changed.
pub enum Joined {
    /// The line that holds what both say.
    Clean(String),
    /// Each side took out what the other left, so that the line has nothing to say any more; as it would stand.
    Empty(String),
    /// Our line and theirs, with what does not clash in both.
    Clash(String, String),
}

/// Puts the parts of a line together that stands in both writings, and perhaps stood before.
pub fn join(base: Option<&Line>, ours: &Line, theirs: &Line) -> Joined {
    let as_written = || Joined::Clash(ours.text.clone(), theirs.text.clone());
    let before: &[Part] = base.map_or(&[], |base| &base.parts);
    if ours.own() == theirs.own() {
        return Joined::Clean(ours.text.clone());
    }
    if !ours.whole || !theirs.whole || base.is_some_and(|base| !base.whole) {
        return as_written();
    }
    let found = match ours.stages || theirs.stages {
        false => slots(before, &ours.parts, &theirs.parts, false),
        true => {
            let stages = |parts: &[Part]| -> Vec<Stage> { parts.iter().cloned().map(Stage).collect() };
            slots(
                &stages(before),
                &stages(&ours.parts),
                &stages(&theirs.parts),
                true,
            )
        }
    };
    let Ok(found) = found else {
        return as_written();
    };
    let mut clash = false;
    let (mut mine, mut other): (Vec<&Part>, Vec<&Part>) = (Vec::new(), Vec::new());
    for Slot {
        base: was,
        ours: one,
        theirs: two,
    } in found
    {
        let was = was.and_then(|at| before.get(at));
        let one = one.and_then(|at| ours.parts.get(at));
        let two = two.and_then(|at| theirs.parts.get(at));
        let changed = |now: Option<&Part>| now.map(|part| &part.says) != was.map(|part| &part.says);
        let (one, two) = match (changed(one), changed(two)) {
            (false, _) => (two, two),
            (_, false) => (one, one),
            _ if one.map(|part| &part.says) == two.map(|part| &part.says) => (one, one),
            // What only one side added is no clash.
            _ if was.is_none() && (one.is_none() || two.is_none()) => (one.or(two), one.or(two)),
            _ => {
                clash = true;
                (one, two)
            }
        };
        mine.extend(one);
        other.extend(two);
    }
    match clash {
        false if mine.is_empty() => Joined::Empty(written(ours, &mine)),
        false => Joined::Clean(written(ours, &mine)),
        true => Joined::Clash(written(ours, &mine), written(theirs, &other)),
    }
}

/// A line written from its parts.
fn written(line: &Line, parts: &[&Part]) -> String {
    let mut text = line.lead.clone();
    if line.parts.is_empty() && line.role == Role::Field {
        // The value starts where that of most fields does.
        let wide = text.chars().count();
        text.push_str(&" ".repeat(18usize.saturating_sub(wide).max(1)));
    }
    let of = |kind: PartKind| -> Vec<&str> {
        let parts = parts.iter().filter(|part| part.kind == kind);
        parts.map(|part| part.text.as_str()).collect()
    };
    let name = of(PartKind::Name).join(", ");
    let said = of(PartKind::Said).join(", ");
    let remarks = of(PartKind::Remark).join(" ");
    text.push_str(&name);
    let more = !said.is_empty() || !remarks.is_empty();
    if !name.is_empty() && more {
        // The columns of the one form.
        let wide = name.chars().count();
        text.push_str(&" ".repeat(16usize.saturating_sub(wide).max(2)));
    }
    text.push_str(&said);
    if !said.is_empty() && !remarks.is_empty() {
        text.push_str("  ");
    }
    text.push_str(&remarks);
    text.trim_end().to_owned()
}
