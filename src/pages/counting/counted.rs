//! A course counted as its players count it: where something begins or ends for anybody, and for each player
//! runs of playing and of rest, broken where a part breaks them: at what stands over the lines.

use std::collections::BTreeSet;

use super::{Course, Line, Mark, Walk};

/// A course cut where something begins or ends for somebody.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Counted {
    /// The measures where something begins, and at last one more than there are.
    pub cuts: Vec<u32>,
    /// For each cut, whether a mark stands there.
    pub marked: Vec<bool>,
    /// For each player and each stretch between two cuts, what is played: the instruments, or nothing.
    pub plays: Vec<Vec<Option<String>>>,
    /// For each player and each cut, the walk that begins there.
    pub walks: Vec<Vec<Option<Walk>>>,
}

/// A run of one player's stretches in which the same is done.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Run {
    /// The cut where it begins.
    pub from: usize,
    /// The cut where it is over.
    pub to: usize,
    /// How many measures it has.
    pub measures: u32,
    /// The instruments; nothing in a rest.
    pub plays: Option<String>,
}

impl Counted {
    /// Counts a course.
    pub fn of(course: &Course) -> Counted {
        let end = course.measures.saturating_add(1);
        let inside = |at: u32| (1..=end).contains(&at);
        let mut cuts: BTreeSet<u32> = BTreeSet::from([1, end]);
        cuts.extend(course.marks.iter().map(|mark| mark.at).filter(|at| inside(*at)));
        for line in &course.lines {
            for played in line.plays.iter().filter(|played| played.first <= played.last) {
                cuts.extend(
                    [played.first, played.last.saturating_add(1)]
                        .into_iter()
                        .filter(|at| inside(*at)),
                );
            }
            cuts.extend(
                line.walks
                    .iter()
                    .map(|walk| walk.after.saturating_add(1))
                    .filter(|at| inside(*at)),
            );
        }
        let cuts: Vec<u32> = cuts.into_iter().collect();
        let marked = cuts
            .iter()
            .map(|at| course.marks.iter().any(|mark| mark.at == *at))
            .collect();
        Counted {
            plays: course.lines.iter().map(|line| plays(line, &cuts)).collect(),
            walks: course.lines.iter().map(|line| walks(line, &cuts)).collect(),
            marked,
            cuts,
        }
    }

    /// A player's runs between two cuts.
    pub fn runs(&self, player: usize, from: usize, to: usize) -> Vec<Run> {
        let mut runs: Vec<Run> = Vec::new();
        let nothing = Vec::new();
        let plays = self.plays.get(player).unwrap_or(&nothing);
        for at in from..to {
            let now = plays.get(at).cloned().flatten();
            let (Some(first), Some(next)) = (self.cuts.get(at), self.cuts.get(at + 1)) else {
                continue;
            };
            let measures = next.saturating_sub(*first);
            let marked = self.marked.get(at).copied().unwrap_or(false);
            match runs.last_mut() {
                Some(run) if run.plays == now && !marked => {
                    run.to = at + 1;
                    run.measures = run.measures.saturating_add(measures);
                }
                _ => runs.push(Run {
                    from: at,
                    to: at + 1,
                    measures,
                    plays: now,
                }),
            }
        }
        runs
    }

    /// The instrument a player stands at when a stretch begins: the one being played, else the one of the walk
    /// that has begun, else the last played, else the first to come. Whether it is on the way there.
    pub fn stands_at(&self, player: usize, cut: usize) -> Option<(String, bool)> {
        let plays = self.plays.get(player)?;
        let walks = self.walks.get(player)?;
        if let Some(Some(now)) = plays.get(cut) {
            return Some((now.clone(), false));
        }
        for at in (0..cut).rev() {
            if let Some(Some(walk)) = walks.get(at) {
                return Some((walk.to.clone(), true));
            }
            if let Some(Some(last)) = plays.get(at) {
                return Some((last.clone(), false));
            }
        }
        plays.iter().flatten().next().map(|first| (first.clone(), false))
    }
}

fn plays(line: &Line, cuts: &[u32]) -> Vec<Option<String>> {
    cuts.windows(2)
        .map(|pair| {
            let at = pair.first().copied().unwrap_or(0);
            let mut names: Vec<&str> = Vec::new();
            for played in &line.plays {
                if played.first <= at && at <= played.last && !names.contains(&played.instrument.as_str()) {
                    names.push(&played.instrument);
                }
            }
            (!names.is_empty()).then(|| names.join(" + "))
        })
        .collect()
}

fn walks(line: &Line, cuts: &[u32]) -> Vec<Option<Walk>> {
    let mut walks = vec![None; cuts.len()];
    for walk in &line.walks {
        let Ok(at) = cuts.binary_search(&walk.after.saturating_add(1)) else {
            continue;
        };
        let Some(place) = walks.get_mut(at) else { continue };
        // Of two at one place, that which is gone back is told only where there is no other.
        if place.as_ref().is_none_or(|known: &Walk| known.back && !walk.back) {
            *place = Some(walk.clone());
        }
    }
    walks
}

/// The marks at a measure, in the order they are written.
pub fn marks_at(course: &Course, at: u32) -> impl Iterator<Item = &Mark> {
    course.marks.iter().filter(move |mark| mark.at == at)
}
