//! How long the music lasts: measures in the order they sound, under their meters and tempos.
//!
//! A steady measure takes (length of the measure in beats) x 60 / (beats a minute) seconds.
//!
//! A gradual change moves the tempo in a straight line **over the written music**: halfway
//! through its measures the tempo is halfway between the two marks. From tempo a to tempo b over
//! L beats it takes 60 L ln(b/a) / (b - a) seconds. (Moving in a straight line over clock time
//! would take 120 L / (a + b); for a change from 100 to 144 the two differ by about one percent.)
//!
//! Fermatas, pauses and holds are not counted.

use super::meter::Meter;
use super::tempo::{BeatUnit, Tempo};
use super::{clock::Clock, fraction::Fraction};

/// A tempo that begins at a measure.
#[derive(Clone, Debug, PartialEq)]
pub struct TempoPoint {
    /// The measure from which this tempo holds.
    pub at: u32,
    /// The tempo.
    pub tempo: Tempo,
    /// For a gradual change: the measure at which the tempo begins to move, in a straight line,
    /// from the tempo in force there to this one, reached at `at`. `None` for a sudden change.
    pub gradual_from: Option<u32>,
}

impl TempoPoint {
    /// A sudden change.
    pub fn new(at: u32, tempo: Tempo) -> Self {
        Self {
            at,
            tempo,
            gradual_from: None,
        }
    }
}

/// The meters and tempos of a piece by measure number. The measures of the maps need no order;
/// of two changes at one measure the later entry holds.
#[derive(Clone, Debug, PartialEq, Default)]
pub struct Timeline {
    /// Meter changes.
    pub meters: Vec<(u32, Meter)>,
    /// Tempo changes.
    pub tempos: Vec<TempoPoint>,
    /// The length of the pickup, counted once before everything; `None` for no pickup. Measure 0
    /// in an order also lasts this long, and then it is not added on its own.
    pub pickup: Option<Fraction>,
}

/// How long something lasts, as surely as it is known.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct Lasting {
    /// Seconds at the fastest the marks allow.
    pub low: f64,
    /// Seconds at the slowest the marks allow.
    pub high: f64,
    /// Measures left out of both figures, because no tempo or no meter is known for them.
    pub unknown: u32,
    /// Measures whose tempo rests on a word (`Allegro`, `slower`) and is only near enough.
    pub vague: u32,
}

impl Lasting {
    /// Nothing at all.
    pub const NONE: Lasting = Lasting {
        low: 0.0,
        high: 0.0,
        unknown: 0,
        vague: 0,
    };

    /// The shorter and the longer length to the nearest second.
    pub fn clocks(&self) -> (Clock, Clock) {
        (Clock::from_seconds(self.low), Clock::from_seconds(self.high))
    }

    /// Whether every measure was counted by a printed figure.
    pub fn is_known(&self) -> bool {
        self.unknown == 0 && self.vague == 0
    }

    fn add(&mut self, other: Lasting) {
        self.low += other.low;
        self.high += other.high;
        self.unknown = self.unknown.saturating_add(other.unknown);
        self.vague = self.vague.saturating_add(other.vague);
    }
}

/// Whole notes a minute, slow and fast end, and whether the figure is only near enough.
#[derive(Clone, Copy, Debug, PartialEq)]
struct Pace {
    slow: f64,
    fast: f64,
    vague: bool,
}

struct Span {
    at: u32,
    pace: Option<Pace>,
    gradual_from: Option<u32>,
}

impl Timeline {
    /// The meter in force at a measure; before the first change the first meter is taken.
    pub fn meter_at(&self, measure: u32) -> Option<&Meter> {
        let before = self.meters.iter().filter(|(at, _)| *at <= measure);
        let last = before.enumerate().max_by_key(|(i, (at, _))| (*at, *i));
        let first = || self.meters.iter().min_by_key(|(at, _)| *at);
        last.map(|(_, m)| m).or_else(first).map(|(_, meter)| meter)
    }

    /// How long the measures last in the order given. Any order is answered, measures beyond the
    /// maps included: the last meter and tempo go on.
    pub fn lasts(&self, order: &[u32]) -> Lasting {
        let mut sum = Lasting::NONE;
        if let (Some(_), false) = (self.pickup, order.is_empty() || order.contains(&0)) {
            sum.add(self.each(&[0]).first().copied().unwrap_or(Lasting::NONE));
        }
        for measure in self.each(order) {
            sum.add(measure);
        }
        sum
    }

    /// How long each of the measures lasts, in the order given; a pickup only as measure 0.
    pub fn each(&self, order: &[u32]) -> Vec<Lasting> {
        let mut sorted: Vec<&(u32, Meter)> = self.meters.iter().collect();
        sorted.sort_by_key(|(at, _)| *at);
        let measure_of = |(at, meter): &&(u32, Meter)| (*at, meter.measure());
        let meters: Vec<(u32, Option<Fraction>)> = sorted.iter().map(measure_of).collect();
        let spans = self.spans(&sorted);
        let one = |measure: &u32| self.one(*measure, &meters, &spans);
        order.iter().map(one).collect()
    }

    fn one(&self, measure: u32, meters: &[(u32, Option<Fraction>)], spans: &[Span]) -> Lasting {
        let unknown = Lasting {
            unknown: 1,
            ..Lasting::NONE
        };
        let at = meters.partition_point(|(at, _)| *at <= measure);
        let meter = meters.get(at.saturating_sub(1)).and_then(|(_, len)| *len);
        let pickup = self.pickup.filter(|_| measure == 0);
        let Some(length) = pickup.or(meter) else {
            return unknown;
        };
        let after = spans.partition_point(|s| s.at <= measure);
        let here = spans.get(after.saturating_sub(1)).and_then(|s| s.pace);
        let Some(here) = here else {
            return unknown;
        };
        let whole = length.value();
        let next = spans.get(after);
        let moving = next.and_then(|n| Some((n, n.gradual_from?, n.pace?)));
        let (start, end) = match moving {
            Some((next, from, to)) if from <= measure && from < next.at => {
                let all = f64::from(next.at - from);
                let begin = f64::from(measure - from) / all;
                (blend(here, to, begin), blend(here, to, begin + 1.0 / all))
            }
            _ => (here, here),
        };
        let seconds = |a: f64, b: f64| 60.0 * whole * mean_of_reciprocal(a, b);
        Lasting {
            low: seconds(start.fast, end.fast),
            high: seconds(start.slow, end.slow),
            unknown: 0,
            vague: u32::from(start.vague || end.vague),
        }
    }

    /// The tempo map with words resolved: a relative word keeps the figure before it and is vague.
    fn spans(&self, meters: &[&(u32, Meter)]) -> Vec<Span> {
        let mut points: Vec<&TempoPoint> = self.tempos.iter().collect();
        points.sort_by_key(|p| p.at);
        let mut spans: Vec<Span> = Vec::new();
        let mut first: Option<Pace> = None;
        let mut steady: Option<Pace> = None;
        let mut current: Option<Pace> = None;
        let mut leaning: Option<(u32, Option<Pace>)> = None;
        for point in points {
            let before = current;
            let scaled = |by: f64| {
                current.map(|p| Pace {
                    slow: p.slow * by,
                    fast: p.fast * by,
                    vague: p.vague,
                })
            };
            let vague = || current.map(|p| Pace { vague: true, ..p });
            current = match &point.tempo {
                // A figure whose note is in doubt, or that nobody can conduct, leaves the tempo unknown.
                Tempo::Mark { .. } => figured(point, meters),
                Tempo::Term(_) => figured(point, meters).or_else(vague),
                Tempo::Equal { before, after } => current.map(|pace| {
                    let by = after.length().value() / before.length().value();
                    Pace {
                        slow: pace.slow * by,
                        fast: pace.fast * by,
                        vague: pace.vague || is_backwards(point.at, *before, *after, meters),
                    }
                }),
                Tempo::Same | Tempo::Hold => current,
                Tempo::DoubleTime => scaled(2.0),
                Tempo::HalfTime => scaled(0.5),
                Tempo::Swing | Tempo::Straight => current,
                Tempo::ATempo => steady.or(first),
                Tempo::TempoPrimo => first,
                Tempo::Slower | Tempo::Faster | Tempo::Accelerando | Tempo::Ritardando | Tempo::Rubato => {
                    vague()
                }
            };
            let mut gradual_from = point.gradual_from;
            if matches!(point.tempo, Tempo::Mark { .. } | Tempo::Term(_)) {
                // A word for a gradual change, followed by its goal, is that change.
                if let (Some((at, before)), Some(last)) = (leaning, spans.last_mut()) {
                    last.pace = before;
                    gradual_from = gradual_from.or(Some(at));
                }
                steady = current;
                first = first.or(current);
            }
            leaning = match point.tempo {
                Tempo::Accelerando | Tempo::Ritardando => Some((point.at, before)),
                _ => None,
            };
            spans.push(Span {
                at: point.at,
                pace: current,
                gradual_from,
            });
        }
        spans
    }
}

/// Whole notes a minute of a point with figures; `meters` are in order of their measures.
fn figured(point: &TempoPoint, meters: &[&(u32, Meter)]) -> Option<Pace> {
    let (low, high) = point.tempo.figures()?;
    let named = match &point.tempo {
        Tempo::Mark { unit, .. } => *unit,
        _ => None,
    };
    let after = meters.partition_point(|(at, _)| *at <= point.at);
    let meter = meters.get(after.saturating_sub(1));
    let unit = match (named, meter) {
        (Some(named), _) => named,
        (None, Some((_, meter))) if meter.numbers().is_some() => meter.figure_beat()?,
        // With no meter to say otherwise a bare figure counts quarters.
        (None, _) => BeatUnit::QUARTER,
    };
    let unit = unit.length();
    if low == 0 {
        return None;
    }
    let wholes = |bpm: u16| f64::from(bpm.max(1)) * unit.value();
    Some(Pace {
        slow: wholes(low),
        fast: wholes(high.unwrap_or(low)),
        vague: matches!(point.tempo, Tempo::Term(_)),
    })
}

/// Whether two notes said to be equal fit the meters only the other way around, as some print them: then nobody
/// can be sure which is meant.
fn is_backwards(at: u32, before: BeatUnit, after: BeatUnit, meters: &[&(u32, Meter)]) -> bool {
    let beat = |at: u32| {
        let after = meters.partition_point(|(from, _)| *from <= at);
        let (_, meter) = meters.get(after.checked_sub(1)?)?;
        meter.beat()
    };
    let (was, is) = (at.checked_sub(1).and_then(beat), beat(at));
    before != after && was == Some(after) && is == Some(before)
}

fn blend(a: Pace, b: Pace, part: f64) -> Pace {
    let mix = |x: f64, y: f64| x + (y - x) * part.clamp(0.0, 1.0);
    Pace {
        slow: mix(a.slow, b.slow),
        fast: mix(a.fast, b.fast),
        vague: a.vague || b.vague,
    }
}

/// The mean of 1/t as t moves in a straight line from `a` to `b`: ln(b/a)/(b-a).
fn mean_of_reciprocal(a: f64, b: f64) -> f64 {
    let apart = b - a;
    if (apart / a).abs() < 1e-9 {
        return 1.0 / a;
    }
    (apart / a).ln_1p() / apart
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    fn timeline(meters: &[(u32, &str)], tempos: &[(u32, &str)]) -> Timeline {
        let meter = |(at, m): &(u32, &str)| Some((*at, Meter::read(m)?));
        let tempo = |(at, t): &(u32, &str)| Some(TempoPoint::new(*at, Tempo::read(t)?));
        Timeline {
            meters: meters.iter().filter_map(meter).collect(),
            tempos: tempos.iter().filter_map(tempo).collect(),
            pickup: None,
        }
    }

    fn order(measures: u32) -> Vec<u32> {
        (1..=measures).collect()
    }

    /// Sources as named in each row.
    #[test]
    fn published_examples() {
        let table = [
            // "Num3rs" worked example, scribd 907692497: 1:36.
            ("4/4", "quarter = 80", 32, 96.0),
            // Music Stack Exchange 109729: one bar of four at 120 lasts two seconds.
            ("4/4", "quarter = 120", 1, 2.0),
            // Compound beat: teoria.com, compound meter; the product worked out here.
            ("6/8", "dotted quarter = 96", 48, 60.0),
            // The bare figure counts the beat of the meter.
            ("6/8", "96", 48, 60.0),
            ("cut", "half = 60", 30, 60.0),
            ("4/4", "112", 64, 64.0 * 4.0 * 60.0 / 112.0),
        ];
        for (meter, tempo, measures, seconds) in table {
            let lasts = timeline(&[(1, meter)], &[(1, tempo)]).lasts(&order(measures));
            assert!((lasts.low - seconds).abs() < 1e-9, "{meter} {tempo}: {lasts:?}");
            assert!(lasts.is_known());
        }
    }

    #[test]
    fn changes_on_the_way() {
        let line = timeline(
            &[(1, "4/4"), (20, "3/4"), (22, "4/4")],
            &[(1, "quarter = 76"), (33, "quarter = 144"), (73, "quarter = 76")],
        );
        let beats_76 = 19.0 * 4.0 + 2.0 * 3.0 + 11.0 * 4.0 + 16.0 * 4.0;
        let seconds = beats_76 * 60.0 / 76.0 + 40.0 * 4.0 * 60.0 / 144.0;
        let lasts = line.lasts(&order(88));
        assert!((lasts.low - seconds).abs() < 1e-9);
        assert_eq!(lasts.low, lasts.high);
    }

    #[test]
    fn ranges_words_and_gaps() {
        let range = timeline(&[(1, "2/4")], &[(1, "quarter = 60-66")]).lasts(&order(30));
        assert_eq!(range.clocks(), (Clock(55), Clock(60)));
        let slower = timeline(&[(1, "2/4")], &[(1, "116"), (11, "slower"), (21, "116")]);
        assert_eq!(slower.lasts(&order(30)).vague, 10);
        let none = timeline(&[(1, "4/4")], &[]).lasts(&order(8));
        assert_eq!((none.unknown, none.low), (8, 0.0));
        let free = timeline(&[(1, "none"), (3, "4/4")], &[(1, "60")]).lasts(&order(4));
        assert_eq!((free.unknown, free.low), (2, 8.0));
    }

    #[test]
    fn a_word_before_its_goal_is_a_gradual_change() {
        let words = timeline(&[(1, "4/4")], &[(1, "100"), (5, "accelerando"), (9, "144")]);
        let mut marked = timeline(&[(1, "4/4")], &[(1, "100"), (9, "144")]);
        marked.tempos[1].gradual_from = Some(5);
        assert_eq!(words.lasts(&order(12)), marked.lasts(&order(12)));
        assert!(words.lasts(&order(12)).is_known());
    }

    /// A bare figure counts the beat of the meter it stands in, not of the first one.
    #[test]
    fn bare_figures_after_a_change_of_meter() {
        let line = timeline(&[(1, "4/4"), (3, "6/8")], &[(1, "60"), (3, "60")]);
        assert_eq!(line.lasts(&order(4)).low, 8.0 + 4.0);
    }

    /// Worked by hand: 60 quarters a minute become 60 dotted quarters, so that 6/8 takes two seconds.
    #[test]
    fn equal_notes_and_doubtful_beats() {
        let line = timeline(
            &[(1, "4/4"), (3, "6/8"), (5, "7/8")],
            &[
                (1, "q = 60"),
                (3, "quarter = dotted quarter"),
                (4, "same tempo"),
                (5, "120"),
            ],
        );
        assert_eq!(line.lasts(&order(4)).low, 8.0 + 4.0);
        assert!(line.lasts(&order(4)).is_known());
        // A bare figure in 7/8 may count eighths or groups.
        assert_eq!(line.lasts(&order(6)).unknown, 2);
        // Printed the other way around, it is only near enough.
        let line = timeline(
            &[(1, "4/4"), (3, "6/8")],
            &[(1, "q = 60"), (3, "dotted quarter = quarter")],
        );
        assert_eq!(line.lasts(&order(4)).vague, 2);
        let nothing = timeline(&[(1, "4/4")], &[(1, "q = 0")]);
        assert_eq!(nothing.lasts(&order(4)).unknown, 4);
    }

    #[test]
    fn pickup_counts_once() {
        let mut line = timeline(&[(1, "4/4")], &[(1, "quarter = 60")]);
        line.pickup = Fraction::new(1, 4);
        assert_eq!(line.lasts(&order(2)).low, 9.0);
        assert_eq!(line.lasts(&[0, 1, 2]).low, 9.0);
    }

    /// The integral of 60/t, checked against ten thousand small steady steps.
    #[test]
    fn accelerando_is_the_integral() {
        let mut line = timeline(&[(1, "4/4")], &[(1, "100"), (9, "144")]);
        line.tempos[1].gradual_from = Some(5);
        let lasts = line.lasts(&order(8));
        let steps = 10_000;
        let mut moving = 0.0;
        for i in 0..steps {
            let tempo = 100.0 + 44.0 * (f64::from(i) + 0.5) / f64::from(steps);
            moving += 16.0 / f64::from(steps) * 60.0 / tempo;
        }
        let steady = 16.0 * 60.0 / 100.0;
        assert!((lasts.low - steady - moving).abs() < 1e-6, "{lasts:?}");
    }

    proptest! {
        #[test]
        fn any_maps(points in prop::collection::vec((any::<u32>(), 1_u16..999, prop::option::of(any::<u32>())), 0..6),
                    order in prop::collection::vec(any::<u32>(), 0..20)) {
            let line = Timeline {
                meters: vec![(1, Meter::Common)],
                tempos: points.iter().map(|(at, bpm, from)| TempoPoint {
                    at: *at,
                    tempo: Tempo::Mark { unit: None, low: *bpm, high: *bpm },
                    gradual_from: *from,
                }).collect(),
                pickup: None,
            };
            let lasts = line.lasts(&order);
            prop_assert!(lasts.low.is_finite() && lasts.low >= 0.0);
            prop_assert!(lasts.low <= lasts.high + 1e-9);
        }
    }
}
