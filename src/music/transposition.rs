//! Transposing instruments: from the written note to the sounding one and back.

use super::interval::Interval;
use super::pitch::Pitch;

/// What to add to a written pitch to get the sounding one, in the three numbers of
/// W3C MusicXML 4.0, transpose element: `diatonic` letters and `chromatic` semitones without
/// octaves, then whole octaves.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash, Default)]
pub struct Transposition {
    /// Letters, without octaves.
    pub diatonic: i8,
    /// Semitones, without octaves.
    pub chromatic: i8,
    /// Whole octaves on top.
    pub octave_change: i8,
}

impl Transposition {
    /// Sounds as written.
    pub const NONE: Transposition = Transposition::new(0, 0, 0);

    /// From the three numbers of the MusicXML element.
    pub const fn new(diatonic: i8, chromatic: i8, octave_change: i8) -> Self {
        Self {
            diatonic,
            chromatic,
            octave_change,
        }
    }

    /// From a whole interval, octaves split off so that both remainders point the same way.
    /// `None` when it is too wide to be written in the three numbers.
    pub fn from_interval(interval: Interval) -> Option<Self> {
        let octaves = interval.steps / 7;
        Some(Self {
            diatonic: i8::try_from(interval.steps % 7).ok()?,
            chromatic: i8::try_from(interval.semitones.checked_sub(octaves.checked_mul(12)?)?).ok()?,
            octave_change: i8::try_from(octaves).ok()?,
        })
    }

    /// The whole interval from written to sounding, octaves included.
    pub fn interval(self) -> Interval {
        let octaves = i32::from(self.octave_change);
        Interval::new(
            i32::from(self.diatonic) + 7 * octaves,
            i32::from(self.chromatic) + 12 * octaves,
        )
    }

    /// The pitch heard when `written` is played.
    pub fn sounding(self, written: Pitch) -> Option<Pitch> {
        self.interval().transpose(written)
    }

    /// The note to write so that `sounding` is heard.
    pub fn written(self, sounding: Pitch) -> Option<Pitch> {
        self.interval().reversed().transpose(sounding)
    }

    /// Sharps to add to a concert signature to get the written one: 2 for instruments in B-flat,
    /// 3 in E-flat, 1 in F, 0 in C. On the line of fifths a semitone is 7 steps and a letter 12
    /// back.
    pub fn sharps_added(self) -> i32 {
        let interval = self.interval();
        12 * interval.steps - 7 * interval.semitones
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Rows: W3C MusicXML 4.0, transpose element, for the numbers; woodwind and brass intervals
    /// by C. Schmidt-Jones, "Transposing Instruments" (OpenStax).
    #[test]
    fn written_to_sounding() {
        let table = [
            ("clarinet", (-1, -2, 0), "C5", "Bb4", 2),
            ("alto sax", (-5, -9, 0), "A4", "C4", 3),
            ("tenor sax", (-1, -2, -1), "D5", "C4", 2),
            ("baritone sax", (-5, -9, -1), "A4", "C3", 3),
            ("horn", (-4, -7, 0), "G4", "C4", 1),
            ("Eb clarinet", (2, 3, 0), "A4", "C5", 3),
            ("piccolo", (0, 0, 1), "C5", "C6", 0),
            ("string bass", (0, 0, -1), "C3", "C2", 0),
            ("A clarinet", (-2, -3, 0), "Eb4", "C4", -3),
        ];
        for (who, (d, c, o), written, sounding, sharps) in table {
            let t = Transposition::new(d, c, o);
            let (w, s) = (Pitch::read(written), Pitch::read(sounding));
            assert_eq!(w.and_then(|w| t.sounding(w)), s, "{who}");
            assert_eq!(s.and_then(|s| t.written(s)), w, "{who}");
            assert_eq!(t.sharps_added(), sharps, "{who}");
            assert_eq!(Transposition::from_interval(t.interval()), Some(t), "{who}");
        }
    }
}
