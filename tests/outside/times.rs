//! Meters and lengths against music21.

use levare::music::time::{TempoPoint, Timeline};
use levare::music::{Meter, Tempo};
use serde_json::Value;

use super::answers::{Row, agree, figure, number, rows, word};

/// Meters that music21 counts in another way, and why.
const COUNTED_APART: [(&str, &str); 1] = [(
    "3/8",
    "it counts one dotted quarter; here three eighths, as a bare figure over a slow 3/8 is meant",
)];

/// Length of a measure, number of beats and their length.
pub fn meters(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let said = word(row, "meter");
        let Some(meter) = Meter::read(said) else {
            found.push(format!("not read: {row}"));
            continue;
        };
        let quarters = meter.measure().map(|length| length.value() * 4.0);
        if quarters != Some(figure(row, "quarters")) {
            found.push(format!("{row}, here {quarters:?} quarters"));
        }
        let beats = meter.beats().map(f64::from);
        let beat = meter.beat().map(|beat| beat.length().value() * 4.0);
        let same = beats == Some(figure(row, "beats")) && beat == Some(figure(row, "beat"));
        match COUNTED_APART.iter().find(|(about, _)| *about == said) {
            None if !same => found.push(format!("{row}, here {beats:?} of {beat:?}")),
            Some((_, why)) if same => found.push(format!("{said}: they agree now ({why})")),
            _ => {}
        }
    }
    found
}

fn changes<T>(said: &Value, read: impl Fn(&str) -> Option<T>) -> Option<Vec<(u32, T)>> {
    let pairs = said.as_object()?.iter();
    pairs
        .map(|(at, words)| Some((at.parse().ok()?, read(words.as_str()?)?)))
        .collect()
}

/// Seconds of whole pieces, to a thousandth.
pub fn lengths(rows: &[Row]) -> Vec<String> {
    let mut found = Vec::new();
    for row in rows {
        let meters = changes(&row["meters"], Meter::read);
        let tempos = changes(&row["tempos"], Tempo::read);
        let (Some(meters), Some(tempos)) = (meters, tempos) else {
            found.push(format!("not read: {row}"));
            continue;
        };
        let timeline = Timeline {
            meters,
            tempos: tempos
                .into_iter()
                .map(|(at, tempo)| TempoPoint::new(at, tempo))
                .collect(),
            pickup: None,
        };
        let measures = u32::try_from(number(row, "measures")).unwrap_or(0);
        let order: Vec<u32> = (1..=measures).collect();
        let lasting = timeline.lasts(&order);
        let apart = (lasting.low - figure(row, "seconds")).abs();
        if !lasting.is_known() || lasting.low != lasting.high || apart > 0.001 {
            found.push(format!("{row}, here {lasting:?}"));
        }
    }
    found
}

#[test]
fn measures_and_their_beats() {
    agree(&meters(&rows("meters")));
}

#[test]
fn how_long_pieces_last() {
    agree(&lengths(&rows("times")));
}
