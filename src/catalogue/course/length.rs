//! How long a course lasts by its measures, meters, tempos and roadmap.

use crate::catalogue::model::Stage;
use crate::music::time::{Lasting, TempoPoint, Timeline};
use crate::music::{Meter, Tempo};
use crate::notation::values::TempoSaid;

use super::line::Line;
use super::{Course, Missing};

/// The most groups that a sum is told in.
const MOST_PARTS: usize = 5;

/// How long a course lasts, with the sum that says so.
#[derive(Debug, Clone, PartialEq)]
pub struct Length {
    /// The length in seconds; a span where the card gives spans.
    pub lasting: Lasting,
    /// Whether something in it is only near enough.
    pub about: bool,
    /// How many measures sound, repeats counted.
    pub sounding: usize,
    /// The sum: measures by meter and tempo; empty where it would be longer than a sentence.
    pub parts: Vec<Part>,
}

/// Measures of one meter and tempo.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Part {
    /// How many sound.
    pub count: u32,
    /// Their meter in the one form.
    pub meter: String,
    /// Their tempo in the one form.
    pub tempo: String,
}

impl Course<'_> {
    /// The meters and tempos of the course for the trade's arithmetic.
    pub fn timeline(&self) -> Timeline {
        let meters: Vec<(u32, Meter)> = self
            .meters
            .legs
            .iter()
            .map(|leg| (leg.first, leg.stage.said.value.clone()))
            .collect();
        let mut tempos: Vec<TempoPoint> = Vec::new();
        for leg in &self.tempos.legs {
            let moving = tempos
                .last()
                .is_some_and(|before| matches!(before.tempo, Tempo::Accelerando | Tempo::Ritardando));
            // Coming back after a gradual change is no goal of that change.
            let said = &leg.stage.said.value;
            let tempo = match (&said.tempo, leg.returns && moving) {
                (_, true) => Tempo::ATempo,
                (Some(tempo), false) => self.with_unit(tempo, said.beats, leg.first),
                (None, false) => Tempo::Rubato,
            };
            tempos.push(TempoPoint::new(leg.first, tempo));
        }
        let beat = meters.first().and_then(|(_, meter)| meter.beat());
        let pickup = self
            .piece
            .pickup
            .as_ref()
            .filter(|said| said.is_certain())
            .and_then(|said| said.value.length(beat));
        Timeline {
            meters,
            tempos,
            pickup,
        }
    }

    /// A bare figure with the note it counts, where the card says in how many beats it is conducted.
    fn with_unit(&self, tempo: &Tempo, beats: Option<u8>, at: u32) -> Tempo {
        let unit = || {
            let meter = &self.meters.at(at)?.stage.said.value;
            meter.clone().in_beats(beats?)?.beat()
        };
        match tempo {
            Tempo::Mark {
                unit: None,
                low,
                high,
            } => Tempo::Mark {
                unit: unit(),
                low: *low,
                high: *high,
            },
            other => other.clone(),
        }
    }

    /// How long the measures last, added up once.
    ///
    /// # Errors
    /// What is missing. A tempo told in words counts as missing when more than a tenth of the measures rest on it.
    pub fn lasting(&self) -> Result<&Length, Missing> {
        self.lasts
            .get_or_init(|| self.added_up())
            .as_ref()
            .map_err(Clone::clone)
    }

    fn added_up(&self) -> Result<Length, Missing> {
        let order = self.order()?;
        let measures = self.piece.measures.as_ref().ok_or(Missing::Measures)?;
        if measures.open {
            return Err(Missing::Answer);
        }
        let mut about = measures.about;
        about |= sure(&self.meters, Missing::Meter)?;
        about |= sure(&self.tempos, Missing::Tempo)?;
        let lasting = self.timeline().lasts(order);
        if lasting.unknown > 0 {
            let free = order.iter().any(|measure| {
                self.meters
                    .at(*measure)
                    .is_none_or(|leg| leg.stage.said.value.measure().is_none())
            });
            return Err(if free { Missing::Meter } else { Missing::Tempo });
        }
        if (lasting.vague as usize).saturating_mul(10) > order.len() {
            return Err(Missing::Figures);
        }
        about |= lasting.vague > 0;
        Ok(Length {
            lasting,
            about,
            sounding: order.len(),
            parts: self.parts(order),
        })
    }

    fn parts(&self, order: &[u32]) -> Vec<Part> {
        let mut parts: Vec<Part> = Vec::new();
        let mut last: Option<(u32, u32, usize)> = None;
        for measure in order {
            let (Some(meter), Some(tempo)) = (self.meters.at(*measure), self.tempos.at(*measure)) else {
                return Vec::new();
            };
            let index = match last {
                Some((at_meter, at_tempo, index)) if (at_meter, at_tempo) == (meter.first, tempo.first) => {
                    index
                }
                _ => {
                    let meter = meter.stage.said.value.to_string();
                    let tempo = tempo_words(&tempo.stage.said.value);
                    let found = parts
                        .iter()
                        .position(|part| part.meter == meter && part.tempo == tempo);
                    found.unwrap_or_else(|| {
                        parts.push(Part {
                            count: 0,
                            meter,
                            tempo,
                        });
                        parts.len() - 1
                    })
                }
            };
            last = Some((meter.first, tempo.first, index));
            if let Some(part) = parts.get_mut(index) {
                part.count = part.count.saturating_add(1);
            }
            if parts.len() > MOST_PARTS {
                return Vec::new();
            }
        }
        parts
    }
}

fn tempo_words(said: &TempoSaid) -> String {
    match (&said.tempo, said.beats) {
        (Some(tempo), Some(beats)) => format!("{tempo} in {beats}"),
        (Some(tempo), None) => tempo.to_string(),
        (None, _) => said.to_string(),
    }
}

/// Whether a line is only near enough somewhere; an error where it is not known throughout.
fn sure<T>(line: &Line<'_, T>, nothing: Missing) -> Result<bool, Missing> {
    if line.is_empty() {
        return Err(nothing);
    }
    if line.hazy || !line.unplaced.is_empty() || line.legs.iter().any(|leg| !leg.placed) {
        return Err(Missing::Place);
    }
    if line.legs.first().is_none_or(|leg| leg.first > 1) {
        return Err(nothing);
    }
    let stages = || line.legs.iter().map(|leg| leg.stage);
    let open = |stage: &Stage<T>| stage.said.open;
    if stages().any(open) {
        return Err(Missing::Answer);
    }
    Ok(stages().any(|stage| stage.said.about))
}
