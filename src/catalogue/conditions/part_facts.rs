//! Answers from wind parts and percussion: ranges, the break, solos, instruments, players.

use crate::catalogue::instrument_named;
use crate::catalogue::percussion::{When, courses, fewest_at_once};
use crate::catalogue::sections::{divisions, is_optional, part_numbers, relates};
use crate::music::groups::Group;
use crate::music::instruments::{is_over_the_break, split_part};
use crate::music::{Clef, Family, Instrument, Instruments, Pitch, PitchRange};
use crate::notation::row::{Fact, Relation, RowItem};

use super::amount::Amount;
use super::judge::Evaluator;
use super::say_facts::bare;
use super::styles::singular;
use super::subject::Subject;
use super::term::Term;
use super::truth::{Truth, sentence};

impl Evaluator<'_> {
    /// Answers conditions on parts and players; none for others.
    pub(super) fn parts(&self, term: &Term, subject: &Subject<'_>) -> Option<Truth> {
        Some(match term {
            Term::Percussionists(amount) => self.percussionists(*amount, subject),
            Term::Range { part, steps } => self.range(part.as_deref(), *steps, subject),
            Term::OverTheBreak(part) => self.over_the_break(part.as_deref(), subject),
            Term::Reach { part, low, high } => self.reach(part, *low, *high, subject),
            Term::Solo(part) => self.solo(part.as_deref(), subject),
            Term::Part(part) => self.has_part(part, subject),
            _ => return None,
        })
    }

    fn instruments(&self) -> &Instruments {
        self.snapshot.instruments()
    }

    /// How many percussionists it takes: at least so many as sound at once, or as the card says it needs.
    fn percussionists(&self, amount: Amount, subject: &Subject<'_>) -> Truth {
        const MISSING: &str = "how many percussionists it needs";
        let needs: Vec<_> = subject
            .piece
            .needs
            .iter()
            .filter(|said| said.is_certain() && said.value.is_percussion())
            .collect();
        let fewest = needs
            .iter()
            .find(|said| said.value.is_minimum())
            .or(needs.first());
        let said = fewest.and_then(|said| said.value.fewest()).map(u64::from);
        let mut at_least: Option<u64> = None;
        let mut all_known = true;
        let mut at_most: u64 = 0;
        let courses = courses(
            subject.piece,
            self.instruments(),
            self.snapshot.covered_together(),
        );
        for course in &courses {
            let played = course
                .movement
                .and_then(|at| subject.piece.movements.get(at))
                .is_none_or(|movement| subject.is_whole() || subject.movements.contains(&movement.number));
            if !played {
                continue;
            }
            if let Some(most) = fewest_at_once(course) {
                at_least = at_least.max(Some(u64::from(most.players)));
            }
            let needed = course.parts.iter().filter(|part| part.is_needed());
            all_known &= needed.clone().all(|part| part.when != When::Unknown);
            at_most = at_most.max(needed.map(|part| u64::from(part.players)).sum());
        }
        let (low, high) = match (said, at_least) {
            // What the director says it needs is what it needs, unless more sound at once.
            (Some(said), Some(sounding)) => (said.max(sounding), Some(said.max(sounding))),
            (Some(said), None) => (said, Some(said)),
            // Nobody counts on who must change instruments, so one for each part is always enough.
            (None, Some(sounding)) if all_known => (sounding, Some(at_most.max(sounding))),
            (None, Some(sounding)) => (sounding, None),
            (None, None) => return Truth::Unknown(MISSING.to_owned()),
        };
        let why = match low {
            1 => "needs 1 percussionist".to_owned(),
            _ => format!("needs {low} percussionists"),
        };
        // Whoever plays at most N must do with what sounds at once; changes between are for the assignment.
        let high = match (amount, high) {
            (Amount::AtMost(_), Some(_)) => Some(low),
            (_, high) => high,
        };
        Truth::within(amount.holds_in(low, high, false), why, MISSING)
    }

    /// The rows for an instrument and part number, with the instrument; undivided rows are for every part.
    fn rows<'r>(&self, part: &str, subject: &Subject<'r>) -> Vec<(&'r RowItem, Instrument, String)> {
        let (name, number) = split_part(part);
        let wanted = instrument_named(self.instruments(), name)
            .or_else(|| instrument_named(self.instruments(), &singular(name)));
        let Some(wanted) = wanted else { return Vec::new() };
        let parts = divisions(subject.piece, self.instruments(), &wanted.name, |_| true);
        let mut found = Vec::new();
        for row in wind_rows(subject) {
            for own in &row.names {
                let is = instrument_named(self.instruments(), &own.text)
                    .is_some_and(|instrument| instrument.name == wanted.name);
                let (first, last) = part_numbers(own, parts.max(number.map_or(1, u32::from)));
                if is && number.is_none_or(|number| (first..=last).contains(&u32::from(number))) {
                    found.push((row, wanted.clone(), own.one_form()));
                }
            }
        }
        found
    }

    fn range(&self, part: Option<&str>, steps: i32, subject: &Subject<'_>) -> Truth {
        let mut sure = true;
        let mut wide = Vec::new();
        let rows: Vec<(&RowItem, Option<Instrument>, String)> = match part {
            Some(part) => self
                .rows(part, subject)
                .into_iter()
                .map(|(row, instrument, name)| (row, Some(instrument), name))
                .collect(),
            None => wind_rows(subject)
                .flat_map(|row| row.names.iter().map(move |name| (row, name)))
                .filter(|(_, name)| Group::read(&name.text).is_none())
                .map(|(row, name)| {
                    let instrument = instrument_named(self.instruments(), &name.text).cloned();
                    (row, instrument, name.one_form())
                })
                .collect(),
        };
        let any = !rows.is_empty();
        for (row, instrument, name) in rows {
            match instrument.and_then(|instrument| whole_range(row, &instrument)) {
                Some(range) if range.span().steps > steps => {
                    wide.push(sentence(format!("the {name} spans {}", range.span_in_words())));
                }
                Some(_) => {}
                None => sure = false,
            }
        }
        match (wide.first(), sure && any) {
            (Some(why), _) => Truth::No(why.clone()),
            (None, true) => Truth::Yes("keeps every range within it".to_owned()),
            (None, false) => Truth::Unknown("the range of every part".to_owned()),
        }
    }

    fn over_the_break(&self, part: Option<&str>, subject: &Subject<'_>) -> Truth {
        const MISSING: &str = "whether the clarinets stay below the break";
        let rows: Vec<(&RowItem, Instrument, String)> = match part {
            Some(part) => self.rows(part, subject),
            None => self
                .instruments()
                .all()
                .iter()
                .filter(|found| found.family == Family::Clarinets && found.clef == Clef::Treble)
                .flat_map(|clarinet| self.rows(&clarinet.name, subject))
                .collect(),
        };
        Truth::any(rows.into_iter().map(|(row, instrument, name)| {
            let says = |wanted: &dyn Fn(&Fact) -> bool| {
                row.facts
                    .iter()
                    .any(|fact| fact.is_certain() && wanted(&fact.what))
            };
            let over = says(&|fact| matches!(fact, Fact::OverTheBreak(_)));
            let below = says(&|fact| *fact == Fact::BelowTheBreak);
            let place = row.facts.iter().find_map(|fact| match &fact.what {
                Fact::OverTheBreak(Some(place)) if fact.is_certain() => Some(format!(" {place}")),
                _ => None,
            });
            match (over, below, whole_range(row, &instrument)) {
                (true, _, _) => Truth::Yes(sentence(format!(
                    "{name} goes over the break{}",
                    place.unwrap_or_default()
                ))),
                (false, true, _) => Truth::No(sentence(format!("{name} stays below the break"))),
                (_, _, Some(range)) if is_over_the_break(range.high) => Truth::Yes(sentence(format!(
                    "{name} goes over the break, up to {}",
                    range.high
                ))),
                (_, _, Some(range)) => Truth::No(sentence(format!(
                    "{name} stays below the break, up to {}",
                    range.high
                ))),
                _ => Truth::Unknown(MISSING.to_owned()),
            }
        }))
        .no_only_if(self.tells_clarinets(part, subject), MISSING)
    }

    /// Whether the card tells of the clarinets at all, so that nothing said means nothing there.
    fn tells_clarinets(&self, part: Option<&str>, subject: &Subject<'_>) -> bool {
        !self.rows(part.unwrap_or("clarinet"), subject).is_empty()
    }

    fn reach(&self, part: &str, low: Option<Pitch>, high: Option<Pitch>, subject: &Subject<'_>) -> Truth {
        let rows = self.rows(part, subject);
        let missing = format!("how far the {part} goes");
        if rows.is_empty() {
            return Truth::Unknown(missing);
        }
        Truth::all(rows.into_iter().map(|(row, instrument, name)| {
            let Some(range) = whole_range(row, &instrument) else {
                return Truth::Unknown(missing.clone());
            };
            if high.is_some_and(|high| range.high.midi() > high.midi()) {
                return Truth::No(sentence(format!("{name} goes up to {}", range.high)));
            }
            if low.is_some_and(|low| range.low.midi() < low.midi()) {
                return Truth::No(sentence(format!("{name} goes down to {}", range.low)));
            }
            Truth::Yes(sentence(format!("{name} stays within {range}")))
        }))
    }

    fn solo(&self, part: Option<&str>, subject: &Subject<'_>) -> Truth {
        let rows: Vec<(&RowItem, String)> = match part {
            Some(part) => self
                .rows(part, subject)
                .into_iter()
                .map(|(row, _, name)| (row, name))
                .collect(),
            None => wind_rows(subject)
                .filter_map(|row| Some((row, row.names.first()?.one_form())))
                .collect(),
        };
        let solo = rows.iter().find(|(row, _)| {
            row.facts
                .iter()
                .any(|fact| fact.is_certain() && matches!(fact.what, Fact::Solo(_)))
        });
        match solo {
            Some((_, name)) => Truth::Yes(format!("has a solo for {name}")),
            // Bare names of parts tell of no solos, so only a card with more to say of its parts denies them.
            None if wind_rows(subject).any(|row| !row.facts.is_empty()) && subject.is_whole() => {
                Truth::No("has no such solo".to_owned())
            }
            None => Truth::Unknown("which solos there are".to_owned()),
        }
    }

    /// Whether any of the percussion is bells, xylophone or the like.
    fn has_mallets(&self, subject: &Subject<'_>) -> Truth {
        let missing = || Truth::Unknown("whether it needs mallets".to_owned());
        let rows: Vec<&RowItem> = subject
            .bodies()
            .into_iter()
            .flat_map(|piece| &piece.percussion)
            .collect();
        let mut hidden = rows.is_empty() || !subject.is_whole();
        for row in rows {
            for own in &row.names {
                match instrument_named(self.instruments(), &own.text) {
                    Some(instrument) if instrument.family == Family::Mallets && !is_optional(row) => {
                        return Truth::Yes(format!("needs {}", own.one_form()));
                    }
                    Some(_) => {}
                    None => hidden = true,
                }
            }
        }
        match hidden {
            true => missing(),
            false => Truth::No("needs no mallets".to_owned()),
        }
    }

    fn has_part(&self, part: &str, subject: &Subject<'_>) -> Truth {
        let part = bare(part);
        let missing = || Truth::Unknown(format!("whether there is a part for {part}"));
        if part == "mallets" {
            return self.has_mallets(subject);
        }
        let (name, _) = split_part(part);
        let found = instrument_named(self.instruments(), name)
            .or_else(|| instrument_named(self.instruments(), &singular(name)));
        let Some(wanted) = found else { return missing() };
        let table = |piece: &'_ crate::catalogue::model::Piece| match wanted.family.is_percussion() {
            true => piece.percussion.clone(),
            false => piece.parts.clone(),
        };
        let rows: Vec<RowItem> = subject.bodies().into_iter().flat_map(table).collect();
        if rows.is_empty() {
            return missing();
        }
        let mut hidden = false;
        for row in &rows {
            for own in &row.names {
                match instrument_named(self.instruments(), &own.text) {
                    Some(instrument) if instrument.name == wanted.name => {
                        return match row.facts.iter().any(|fact| fact.what == Fact::Optional) {
                            true => Truth::Unknown(format!("whether the optional {part} is played")),
                            false => Truth::Yes(format!("has a part for {part}")),
                        };
                    }
                    Some(_) => {}
                    // `low reeds`, `drums`: a grouping, or a name nobody knows, may hold it.
                    None => hidden = true,
                }
            }
        }
        // Sparse cards name the parts that matter, so a few rows of winds deny nothing.
        match hidden || (!wanted.family.is_percussion() && rows.len() < 6) || !subject.is_whole() {
            true => missing(),
            false => Truth::No(format!("has no part for {part}")),
        }
    }
}

/// The wind rows that must be played: no optional ones, and none that replace others.
fn wind_rows<'r>(subject: &Subject<'r>) -> impl Iterator<Item = &'r RowItem> {
    subject
        .bodies()
        .into_iter()
        .flat_map(|piece| &piece.parts)
        .filter(|row| !is_optional(row) && !relates(row, &[Relation::InsteadOf]))
}

/// The range that holds all of a row's ranges, in the written pitch of the instrument; none where one of
/// them is not certain.
fn whole_range(row: &RowItem, instrument: &Instrument) -> Option<PitchRange> {
    let mut whole: Option<PitchRange> = None;
    for fact in &row.facts {
        let Fact::Range { range, concert, .. } = &fact.what else {
            continue;
        };
        if !fact.is_certain() || range.is_upside_down() {
            return None;
        }
        let range = match concert {
            false => *range,
            true => PitchRange::new(
                instrument.transposition.written(range.low)?,
                instrument.transposition.written(range.high)?,
            ),
        };
        whole = Some(whole.map_or(range, |before| before.joined(range)));
    }
    whole
}
