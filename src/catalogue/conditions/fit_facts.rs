//! Answers on how a piece fits the band: written signatures, criteria met, skills, parts covered.

use std::collections::BTreeMap;

use crate::catalogue::instrument_named;
use crate::catalogue::model::Ensemble;
use crate::music::groups::Group;
use crate::music::{Instrument, Signature};
use crate::notation::values::grade::show_hundredths;
use crate::text::sentences::joined;

use super::amount::Amount;
use super::judge::Evaluator;
use super::lowest::lowest_met;
use super::music_facts::{keeps, known_signatures};
use super::part_facts::wind_rows;
use super::subject::Subject;
use super::term::{Coverage, Term};
use super::truth::{Truth, sentence};

/// The skills a piece asks that are new to the band, and of which of the others nobody can say.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct NewSkills {
    /// Those surely not taught, in the words of the card, each once.
    pub new: Vec<String>,
    /// Those the card itself is not sure of, and not taught.
    pub perhaps: Vec<String>,
}

impl Evaluator<'_> {
    /// Answers conditions on how a piece fits the band; none for others.
    pub(super) fn fits(&self, term: &Term, subject: &Subject<'_>) -> Option<Truth> {
        Some(match term {
            Term::Written { part, flats, sharps } => self.written(part.as_deref(), *flats, *sharps, subject),
            Term::Criteria(amount) => self.criteria(*amount, subject),
            Term::NothingNew => self.count_new(Amount::AtMost(0), subject),
            Term::NewSkills(amount) => self.count_new(*amount, subject),
            Term::Covered(which) => self.covered(*which, subject),
            _ => return None,
        })
    }

    /// The signatures as the parts show them.
    fn written(
        &self,
        part: Option<&str>,
        flats: Option<Amount>,
        sharps: Option<Amount>,
        subject: &Subject<'_>,
    ) -> Truth {
        let (signatures, complete) = known_signatures(subject);
        // Parts of one transposition show the same signature; one of them speaks for all.
        let mut parts: BTreeMap<i32, (String, Instrument)> = BTreeMap::new();
        let mut all_known = true;
        let mut add = |name: String, instrument: &Instrument| {
            let added = instrument.transposition.sharps_added();
            parts.entry(added).or_insert_with(|| (name, instrument.clone()));
        };
        match part {
            Some(part) => {
                for (_, instrument, name) in self.rows(part, subject) {
                    add(name, &instrument);
                }
            }
            None => {
                let names = wind_rows(subject).flat_map(|row| &row.names);
                for name in names.filter(|name| Group::read(&name.text).is_none()) {
                    match instrument_named(self.instruments(), &name.text) {
                        Some(instrument) => add(name.one_form(), instrument),
                        None => all_known = false,
                    }
                }
            }
        }
        if parts.is_empty() {
            return Truth::Unknown(match part {
                Some(part) => format!("whether there is a part for {part}"),
                None => "which parts it has".to_owned(),
            });
        }
        let each = parts.values().flat_map(|(name, instrument)| {
            signatures.iter().map(move |signature| {
                let written: Signature = signature.written(instrument.transposition);
                keeps(flats, sharps, written, |signs| {
                    sentence(format!("the {name} reads {signs}"))
                })
            })
        });
        match Truth::all(each) {
            no @ Truth::No(_) => no,
            Truth::Yes(why) if complete && all_known => Truth::Yes(why),
            unknown @ Truth::Unknown(_) => unknown,
            Truth::Yes(_) => Truth::Unknown("the key signature of every part".to_owned()),
        }
    }

    fn criteria(&self, amount: Amount, subject: &Subject<'_>) -> Truth {
        let steps = self.snapshot.grade_cards();
        if steps.is_empty() {
            return Truth::Unknown("what your own grades call for".to_owned());
        }
        match lowest_met(self, subject) {
            Some(grade) => Truth::of(
                amount.holds(u64::from(grade)),
                format!("meets your criteria for grade {}", show_hundredths(grade)),
            ),
            None => Truth::Unknown("the lowest grade whose criteria it meets".to_owned()),
        }
    }

    /// The bands that are asked about: those that were named, else those that judge the piece.
    fn asked_bands(&self, subject: &Subject<'_>) -> Vec<&Ensemble> {
        let judges = || {
            let all = self.snapshot.judges(subject.id);
            all.into_iter().map(|judge| judge.ensemble).collect::<Vec<_>>()
        };
        let ids = match self.bands.is_empty() {
            true => judges(),
            false => self.bands.to_vec(),
        };
        ids.into_iter()
            .filter_map(|id| self.snapshot.entry(id)?.ensemble())
            .collect()
    }

    /// The skills a piece asks that are new to its bands; what is not known where that cannot be said.
    pub fn new_skills(&self, subject: &Subject<'_>) -> Result<NewSkills, &'static str> {
        let asks = &subject.piece.asks;
        let bands = self.asked_bands(subject);
        if asks.is_empty() {
            return Err("all that it asks");
        }
        if bands.is_empty() || bands.iter().any(|band| band.taught.is_empty()) {
            return Err("what the band has been taught");
        }
        let mut found = NewSkills::default();
        for said in asks {
            let wanted = self.skill_names(&said.value.name);
            let is_taught = |band: &&Ensemble| {
                band.taught
                    .iter()
                    .any(|taught| self.is_one_of(&taught.value.name, &wanted))
            };
            let list = match said.is_certain() {
                true => &mut found.new,
                false => &mut found.perhaps,
            };
            if !bands.iter().all(is_taught) && !list.contains(&said.value.name) {
                list.push(said.value.name.clone());
            }
        }
        Ok(found)
    }

    fn count_new(&self, amount: Amount, subject: &Subject<'_>) -> Truth {
        match self.new_skills(subject) {
            Err(missing) => Truth::Unknown(missing.to_owned()),
            Ok(found) => {
                let low = found.new.len() as u64;
                let high = low.saturating_add(found.perhaps.len() as u64);
                let why = match found.new.len() {
                    0 => "asks nothing new".to_owned(),
                    1 => format!("asks {}, which is new to the band", joined(&found.new)),
                    _ => format!("asks {}, which are new to the band", joined(&found.new)),
                };
                Truth::within(amount.holds_in(low, Some(high), true), why, "all that it asks")
            }
        }
    }

    fn covered(&self, which: Coverage, subject: &Subject<'_>) -> Truth {
        match self.planned {
            Some(planned) => planned.covers(self.snapshot, subject, self.bands, which),
            None => Truth::Unknown("whether the band covers its parts".to_owned()),
        }
    }
}
