//! Timpani: which drum takes which notes.

use super::pitch::Pitch;
use super::ranges::PitchRange;

/// A drum with its usable notes in two published ways of counting.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Drum {
    /// The smallest diameter sold under this size, in inches.
    pub from_inches: u8,
    /// The size it is called by, in inches.
    pub inches: u8,
    /// The US rule of thumb, about a fifth to a drum, from memory.
    pub usual: (&'static str, &'static str),
    /// The widest notes of Vienna Symphonic Library, "Timpani: range", by diameter.
    pub widest: (&'static str, &'static str),
}

/// The five sizes, largest first. Four of them, 32, 29, 26 and 23, are the set for advanced high
/// schools (J. Papastefan, "Timpani sizes and ranges").
pub static DRUMS: [Drum; 5] = [
    drum(30, 32, ("D2", "A2"), ("C2", "C3")),
    drum(28, 29, ("F2", "C3"), ("E2", "E3")),
    drum(25, 26, ("Bb2", "F3"), ("Ab2", "Ab3")),
    drum(22, 23, ("D3", "A3"), ("C3", "C#4")),
    drum(20, 20, ("F3", "C4"), ("G3", "C4")),
];

const fn drum(
    from_inches: u8,
    inches: u8,
    usual: (&'static str, &'static str),
    widest: (&'static str, &'static str),
) -> Drum {
    Drum {
        from_inches,
        inches,
        usual,
        widest,
    }
}

impl Drum {
    /// The drum that is called by this size or sold under it.
    pub fn of(inches: u8) -> Option<&'static Drum> {
        DRUMS
            .iter()
            .find(|d| (d.from_inches..=d.inches).contains(&inches))
    }

    /// Its notes by the rule of thumb.
    pub fn usual_range(&self) -> Option<PitchRange> {
        let (low, high) = self.usual;
        Some(PitchRange::new(Pitch::read(low)?, Pitch::read(high)?))
    }

    /// Every note either source allows it.
    pub fn widest_range(&self) -> Option<PitchRange> {
        let (low, high) = self.widest;
        let widest = PitchRange::new(Pitch::read(low)?, Pitch::read(high)?);
        Some(widest.joined(self.usual_range()?))
    }

    /// How far a note lies from the middle of the drum, in semitones doubled; the best tone is in
    /// the middle (Vienna Symphonic Library).
    fn off_center(&self, pitch: Pitch) -> i32 {
        self.usual_range().map_or(i32::MAX, |r| {
            let sum = r.low.midi().saturating_add(r.high.midi());
            (pitch.midi().saturating_mul(2).saturating_sub(sum)).saturating_abs()
        })
    }
}

/// How strictly a drum's range is taken.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Reach {
    /// The rule of thumb.
    Usual,
    /// Whatever either source allows.
    Widest,
}

/// The sizes among `drums` that take the note, best tone first. Sizes nobody knows take none.
pub fn drums_for(pitch: Pitch, drums: &[u8], reach: Reach) -> Vec<u8> {
    let mut fitting: Vec<(i32, u8)> = drums
        .iter()
        .filter_map(|inches| {
            let drum = Drum::of(*inches)?;
            let range = match reach {
                Reach::Usual => drum.usual_range()?,
                Reach::Widest => drum.widest_range()?,
            };
            range.holds(pitch).then(|| (drum.off_center(pitch), *inches))
        })
        .collect();
    fitting.sort_unstable();
    fitting.into_iter().map(|(_, inches)| inches).collect()
}

/// A drum for every one of the notes that stand tuned at once, each drum used once, in the order
/// of `pitches`: places in `drums`. `None` when they do not all fit.
pub fn tune(pitches: &[Pitch], drums: &[u8], reach: Reach) -> Option<Vec<usize>> {
    if pitches.len() > drums.len() || drums.len() > 64 {
        return None;
    }
    let fits = |p: &Pitch| -> Vec<usize> {
        let sizes = drums_for(*p, drums, reach);
        let mut places: Vec<usize> = Vec::new();
        for size in sizes {
            for (at, own) in drums.iter().enumerate() {
                if *own == size && !places.contains(&at) {
                    places.push(at);
                }
            }
        }
        places
    };
    let wanted: Vec<Vec<usize>> = pitches.iter().map(fits).collect();
    let mut holder: Vec<Option<usize>> = vec![None; drums.len()];
    for note in 0..wanted.len() {
        let mut seen = vec![false; drums.len()];
        if !give(note, &wanted, &mut holder, &mut seen) {
            return None;
        }
    }
    let place_of = |note: usize| holder.iter().position(|h| *h == Some(note));
    (0..wanted.len()).map(place_of).collect()
}

/// Gives `note` a drum, moving earlier notes to others where that helps. Its depth is at most the
/// number of drums.
fn give(note: usize, wanted: &[Vec<usize>], holder: &mut [Option<usize>], seen: &mut [bool]) -> bool {
    for drum in wanted.get(note).map(Vec::as_slice).unwrap_or_default() {
        let Some(tried) = seen.get_mut(*drum) else {
            continue;
        };
        if std::mem::replace(tried, true) {
            continue;
        }
        let free = match holder.get(*drum).copied().flatten() {
            None => true,
            Some(other) => give(other, wanted, holder, seen),
        };
        if free {
            if let Some(held) = holder.get_mut(*drum) {
                *held = Some(note);
            }
            return true;
        }
    }
    false
}

#[cfg(test)]
mod tests {
    use super::*;

    fn pitches(names: &str) -> Vec<Pitch> {
        names.split(' ').filter_map(Pitch::read).collect()
    }

    /// A pair of 29 and 26 covers F2 to F3: J. Papastefan, "Timpani sizes and ranges".
    #[test]
    fn a_pair_covers_f_to_f() {
        let pair = [29, 26];
        for midi_name in pitches("F2 G2 A2 Bb2 C3 D3 E3 F3") {
            assert!(
                !drums_for(midi_name, &pair, Reach::Usual).is_empty(),
                "{midi_name}"
            );
        }
        assert!(drums_for(pitches("E2")[0], &pair, Reach::Usual).is_empty());
        assert_eq!(drums_for(pitches("E2")[0], &pair, Reach::Widest), [29]);
    }

    #[test]
    fn tuned_at_once() {
        type Row<'a> = (&'a str, &'a [u8], Option<&'a [usize]>);
        let table: [Row; 7] = [
            ("Bb2 F3", &[29, 26], Some(&[0, 1])),
            ("F2 Bb2", &[29, 26], Some(&[0, 1])),
            ("C3 Bb2", &[29, 26], Some(&[1, 0])),
            // B-flat sounds best on the 29, but only the 29 reaches F.
            ("Bb2 F2", &[29, 26], Some(&[1, 0])),
            ("F2 G2", &[29, 26], None),
            ("F2 Bb2 D3", &[29, 26], None),
            ("Eb2 Bb2 Eb3 F3", &[32, 29, 26, 23], Some(&[0, 1, 2, 3])),
        ];
        for (notes, drums, wanted) in table {
            let got = tune(&pitches(notes), drums, Reach::Usual);
            assert_eq!(got.as_deref(), wanted, "{notes}");
        }
        assert_eq!(tune(&pitches("F2"), &[7], Reach::Widest), None);
    }
}
