//! Comfortable written ranges by grade, one published chart kept apart from another.
//!
//! The charts disagree and none is a standard, so nothing here is averaged: a caller chooses one
//! chart or says what each one says.

use super::pitch::Pitch;
use super::ranges::PitchRange;

/// A chart of ranges by grade.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Hash)]
pub enum Chart {
    /// NE Music Publishing, "NMP Grading System", grades 0.5 to 2. Its octaves are read in. Its
    /// low brass at grade 0.5 is doubtful and left out, and so is its tenor sax there, for the one row
    /// for all saxes shuts out the tenor's own first notes; its trumpet B at 1.5 is as printed, though
    /// B-flat is likely.
    GradedPublisher,
    /// Band Directors Talk Shop, selecting band music for contest, grades 1 and 2. Its octaves
    /// are read in.
    ContestSelection,
    /// Musikkreis Donnersberg, "Grade-Definitionen", grade 1, octaves as printed.
    GermanDefinitions,
    /// Florida Bandmasters Association, sight-reading content limits, classification MD: six
    /// concert notes; the written equivalents are worked out.
    SixNotes,
    /// Georgia Music Educators Association, middle-school all-state chromatic scale: a ceiling
    /// for strong players, filed under grade 3 as the best published figure. Its octaves are read
    /// in, and its common row for flute and piccolo stands for the flute: a piccolo has no low C.
    AllStateScale,
    /// Grades 2.5 and 3 from memory, no source, low confidence.
    FromMemory,
}

impl Chart {
    /// All charts, published ones first.
    pub const ALL: [Chart; 6] = [
        Chart::GradedPublisher,
        Chart::ContestSelection,
        Chart::GermanDefinitions,
        Chart::SixNotes,
        Chart::AllStateScale,
        Chart::FromMemory,
    ];

    /// The words a handbook uses for it.
    pub fn name(self) -> &'static str {
        match self {
            Chart::GradedPublisher => "publisher's grades",
            Chart::ContestSelection => "contest bands",
            Chart::GermanDefinitions => "German definitions",
            Chart::SixNotes => "six notes",
            Chart::AllStateScale => "all-state scale",
            Chart::FromMemory => "from memory",
        }
    }

    /// The chart of a name, whatever its capitals; one of them had another name once.
    pub fn read(name: &str) -> Option<Chart> {
        if name.trim().eq_ignore_ascii_case("contest selection") {
            return Some(Chart::ContestSelection);
        }
        Chart::ALL
            .into_iter()
            .find(|chart| chart.name().eq_ignore_ascii_case(name.trim()))
    }

    /// What a user is told of where it comes from; the names of sources stand in the manual.
    pub fn told(self) -> &'static str {
        match self {
            Chart::FromMemory => "figures from memory, no source",
            _ => "a published chart (source in the manual)",
        }
    }

    /// Where it comes from, in one line.
    pub fn source(self) -> &'static str {
        match self {
            Chart::GradedPublisher => "NE Music Publishing, NMP Grading System",
            Chart::ContestSelection => "Band Directors Talk Shop, selecting band music for contest",
            Chart::GermanDefinitions => "Musikkreis Donnersberg, Grade-Definitionen",
            Chart::SixNotes => "Florida Bandmasters Association, sight-reading limits, class MD",
            Chart::AllStateScale => "Georgia middle-school all-state chromatic scale requirement",
            Chart::FromMemory => "from memory, no source",
        }
    }
}

/// One cell of a chart.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Comfort {
    /// The chart.
    pub chart: Chart,
    /// The standard name of the instrument.
    pub instrument: &'static str,
    /// The grade in tenths: 15 is grade 1.5.
    pub grade_tenths: u8,
    /// The part it is for; `None` for every part.
    pub part: Option<u8>,
    /// The written range as given.
    pub written: &'static str,
}

impl Comfort {
    /// The written range.
    pub fn range(&self) -> Option<PitchRange> {
        PitchRange::read(self.written)
    }
}

/// What every chart says of an instrument (by standard name) at a grade. A row for one part
/// answers that part only; a lower part with no row of its own is not answered by another's.
pub fn comfort(instrument: &str, part: Option<u8>, grade_tenths: u8) -> Vec<Comfort> {
    let fits = |row: &&Comfort| {
        row.instrument == instrument
            && row.grade_tenths == grade_tenths
            && (row.part.is_none() || row.part == part)
    };
    COMFORT.iter().filter(fits).copied().collect()
}

/// What one chart says, at this grade or the nearest grade below that it covers.
pub fn by_chart(chart: Chart, instrument: &str, part: Option<u8>, grade_tenths: u8) -> Option<Comfort> {
    let mut best: Option<&Comfort> = None;
    for row in &COMFORT {
        let fits = row.chart == chart
            && row.instrument == instrument
            && row.grade_tenths <= grade_tenths
            && (row.part.is_none() || row.part == part);
        let rank = |row: &Comfort| (row.grade_tenths, row.part);
        if fits && best.is_none_or(|best| rank(best) <= rank(row)) {
            best = Some(row);
        }
    }
    best.copied()
}

/// The lowest grade, in tenths, at which a chart lets an instrument play this written note.
pub fn first_grade(chart: Chart, instrument: &str, written: Pitch) -> Option<u8> {
    let rows = COMFORT
        .iter()
        .filter(|row| row.chart == chart && row.instrument == instrument);
    rows.filter(|row| row.range().is_some_and(|r| r.holds(written)))
        .map(|row| row.grade_tenths)
        .min()
}

const fn c(
    chart: Chart,
    instrument: &'static str,
    grade_tenths: u8,
    part: Option<u8>,
    written: &'static str,
) -> Comfort {
    Comfort {
        chart,
        instrument,
        grade_tenths,
        part,
        written,
    }
}

/// All cells.
#[rustfmt::skip]
pub static COMFORT: [Comfort; 128] = [
    c(Chart::GradedPublisher, "flute", 5, None, "Bb4-A5"),
    c(Chart::GradedPublisher, "flute", 10, None, "G4-C6"),
    c(Chart::GradedPublisher, "flute", 15, None, "F4-D6"),
    c(Chart::GradedPublisher, "flute", 20, None, "C4-F6"),
    c(Chart::GradedPublisher, "oboe", 5, None, "Bb4-A5"),
    c(Chart::GradedPublisher, "oboe", 10, None, "E4-A5"),
    c(Chart::GradedPublisher, "oboe", 15, None, "D4-A5"),
    c(Chart::GradedPublisher, "oboe", 20, None, "C4-B5"),
    c(Chart::GradedPublisher, "clarinet", 5, None, "A3-Bb4"),
    c(Chart::GradedPublisher, "clarinet", 10, None, "E3-Bb4"),
    c(Chart::GradedPublisher, "clarinet", 20, Some(1), "E3-A5"),
    c(Chart::GradedPublisher, "clarinet", 15, Some(2), "E3-Bb4"),
    c(Chart::GradedPublisher, "clarinet", 20, Some(2), "E3-Bb4"),
    c(Chart::GradedPublisher, "alto sax", 5, None, "G4-F5"),
    c(Chart::GradedPublisher, "alto sax", 10, None, "E4-A5"),
    c(Chart::GradedPublisher, "alto sax", 15, None, "D4-B5"),
    c(Chart::GradedPublisher, "alto sax", 20, None, "C4-C6"),
    c(Chart::GradedPublisher, "tenor sax", 10, None, "E4-A5"),
    c(Chart::GradedPublisher, "tenor sax", 15, None, "D4-B5"),
    c(Chart::GradedPublisher, "tenor sax", 20, None, "C4-C6"),
    c(Chart::GradedPublisher, "baritone sax", 5, None, "G4-F5"),
    c(Chart::GradedPublisher, "baritone sax", 10, None, "E4-A5"),
    c(Chart::GradedPublisher, "baritone sax", 15, None, "D4-B5"),
    c(Chart::GradedPublisher, "baritone sax", 20, None, "C4-C6"),
    c(Chart::GradedPublisher, "trumpet", 5, None, "C4-Bb4"),
    c(Chart::GradedPublisher, "trumpet", 10, None, "C4-C5"),
    c(Chart::GradedPublisher, "trumpet", 15, None, "B3-D5"),
    c(Chart::GradedPublisher, "trumpet", 20, None, "A3-E5"),
    c(Chart::GradedPublisher, "horn", 5, None, "C4-A4"),
    c(Chart::GradedPublisher, "horn", 10, None, "A3-A4"),
    c(Chart::GradedPublisher, "horn", 15, None, "A3-B4"),
    c(Chart::GradedPublisher, "horn", 20, None, "G3-C5"),
    c(Chart::GradedPublisher, "trombone", 10, None, "Bb2-Bb3"),
    c(Chart::GradedPublisher, "trombone", 15, None, "A2-C4"),
    c(Chart::GradedPublisher, "trombone", 20, None, "G2-D4"),
    c(Chart::GradedPublisher, "baritone", 10, None, "Bb2-Bb3"),
    c(Chart::GradedPublisher, "baritone", 15, None, "A2-C4"),
    c(Chart::GradedPublisher, "baritone", 20, None, "G2-D4"),
    c(Chart::GradedPublisher, "euphonium", 10, None, "Bb2-Bb3"),
    c(Chart::GradedPublisher, "euphonium", 15, None, "A2-C4"),
    c(Chart::GradedPublisher, "euphonium", 20, None, "G2-D4"),
    c(Chart::GradedPublisher, "tuba", 10, None, "Bb1-C3"),
    c(Chart::GradedPublisher, "tuba", 15, None, "Bb1-D3"),
    c(Chart::GradedPublisher, "tuba", 20, None, "A1-D3"),
    c(Chart::ContestSelection, "flute", 10, None, "Eb4-C6"),
    c(Chart::ContestSelection, "flute", 20, None, "C4-Eb6"),
    c(Chart::ContestSelection, "clarinet", 10, None, "E3-Bb4"),
    c(Chart::ContestSelection, "clarinet", 20, None, "E3-C6"),
    c(Chart::ContestSelection, "trumpet", 10, None, "Bb3-D5"),
    c(Chart::ContestSelection, "trumpet", 20, None, "G3-F5"),
    c(Chart::ContestSelection, "cornet", 10, None, "Bb3-D5"),
    c(Chart::ContestSelection, "cornet", 20, None, "G3-F5"),
    c(Chart::ContestSelection, "trombone", 10, None, "Ab2-C4"),
    c(Chart::ContestSelection, "trombone", 20, None, "F2-Eb4"),
    c(Chart::GermanDefinitions, "flute", 10, None, "G4-C6"),
    c(Chart::GermanDefinitions, "oboe", 10, None, "F4-G5"),
    c(Chart::GermanDefinitions, "clarinet", 10, Some(1), "G3-G5"),
    c(Chart::GermanDefinitions, "clarinet", 10, Some(2), "G3-Bb4"),
    c(Chart::GermanDefinitions, "bassoon", 10, None, "F2-D4"),
    c(Chart::GermanDefinitions, "alto sax", 10, None, "D4-G5"),
    c(Chart::GermanDefinitions, "tenor sax", 10, None, "D4-G5"),
    c(Chart::GermanDefinitions, "baritone sax", 10, None, "D4-G5"),
    c(Chart::GermanDefinitions, "trumpet", 10, Some(1), "G3-E5"),
    c(Chart::GermanDefinitions, "trumpet", 10, Some(2), "G3-C5"),
    c(Chart::GermanDefinitions, "flugelhorn", 10, Some(1), "G3-E5"),
    c(Chart::GermanDefinitions, "flugelhorn", 10, Some(2), "G3-C5"),
    c(Chart::GermanDefinitions, "horn", 10, None, "Bb3-C5"),
    c(Chart::GermanDefinitions, "trombone", 10, None, "F2-D4"),
    c(Chart::GermanDefinitions, "baritone T.C.", 10, None, "G3-E5"),
    c(Chart::GermanDefinitions, "baritone", 10, None, "F2-D4"),
    c(Chart::GermanDefinitions, "euphonium", 10, None, "F2-D4"),
    c(Chart::SixNotes, "flute", 5, None, "Bb4-G5"),
    c(Chart::SixNotes, "oboe", 5, None, "Bb4-G5"),
    c(Chart::SixNotes, "clarinet", 5, None, "C4-A4"),
    c(Chart::SixNotes, "trumpet", 5, None, "C4-A4"),
    c(Chart::SixNotes, "alto sax", 5, None, "G4-E5"),
    c(Chart::SixNotes, "baritone sax", 5, None, "G4-E5"),
    c(Chart::SixNotes, "horn", 5, None, "F4-D5"),
    c(Chart::SixNotes, "trombone", 5, None, "Bb2-G3"),
    c(Chart::SixNotes, "euphonium", 5, None, "Bb2-G3"),
    c(Chart::SixNotes, "bassoon", 5, None, "Bb2-G3"),
    c(Chart::SixNotes, "tuba", 5, None, "Bb1-G2"),
    c(Chart::SixNotes, "bells", 5, None, "Bb4-G5"),
    c(Chart::AllStateScale, "flute", 30, None, "C4-F6"),
    c(Chart::AllStateScale, "oboe", 30, None, "C4-C6"),
    c(Chart::AllStateScale, "clarinet", 30, None, "E3-D6"),
    c(Chart::AllStateScale, "bass clarinet", 30, None, "E3-A5"),
    c(Chart::AllStateScale, "contra-alto clarinet", 30, None, "E3-A5"),
    c(Chart::AllStateScale, "contrabass clarinet", 30, None, "E3-A5"),
    c(Chart::AllStateScale, "bassoon", 30, None, "Bb1-F4"),
    c(Chart::AllStateScale, "horn", 30, None, "F3-F5"),
    c(Chart::AllStateScale, "trumpet", 30, None, "F#3-G5"),
    c(Chart::AllStateScale, "baritone T.C.", 30, None, "F#3-G5"),
    c(Chart::AllStateScale, "euphonium T.C.", 30, None, "F#3-G5"),
    c(Chart::AllStateScale, "trombone", 30, None, "E2-F4"),
    c(Chart::AllStateScale, "baritone", 30, None, "E2-F4"),
    c(Chart::AllStateScale, "euphonium", 30, None, "E2-F4"),
    c(Chart::AllStateScale, "tuba", 30, None, "E1-F3"),
    c(Chart::AllStateScale, "soprano sax", 30, None, "C4-D6"),
    c(Chart::AllStateScale, "alto sax", 30, None, "C4-D6"),
    c(Chart::AllStateScale, "tenor sax", 30, None, "C4-D6"),
    c(Chart::AllStateScale, "baritone sax", 30, None, "C4-D6"),
    c(Chart::FromMemory, "flute", 25, None, "C4-F6"),
    c(Chart::FromMemory, "clarinet", 25, Some(1), "E3-C6"),
    c(Chart::FromMemory, "clarinet", 25, Some(2), "E3-G5"),
    c(Chart::FromMemory, "alto sax", 25, None, "C4-C6"),
    c(Chart::FromMemory, "tenor sax", 25, None, "C4-C6"),
    c(Chart::FromMemory, "baritone sax", 25, None, "C4-C6"),
    c(Chart::FromMemory, "trumpet", 25, Some(1), "A3-F5"),
    c(Chart::FromMemory, "trumpet", 25, Some(2), "A3-D5"),
    c(Chart::FromMemory, "horn", 25, None, "G3-D5"),
    c(Chart::FromMemory, "trombone", 25, None, "F2-Eb4"),
    c(Chart::FromMemory, "euphonium", 25, None, "F2-Eb4"),
    c(Chart::FromMemory, "tuba", 25, None, "F1-C3"),
    c(Chart::FromMemory, "flute", 30, None, "C4-G6"),
    c(Chart::FromMemory, "clarinet", 30, Some(1), "E3-D6"),
    c(Chart::FromMemory, "clarinet", 30, Some(2), "E3-A5"),
    c(Chart::FromMemory, "clarinet", 30, Some(3), "E3-A5"),
    c(Chart::FromMemory, "alto sax", 30, None, "Bb3-D6"),
    c(Chart::FromMemory, "tenor sax", 30, None, "Bb3-D6"),
    c(Chart::FromMemory, "baritone sax", 30, None, "Bb3-D6"),
    c(Chart::FromMemory, "trumpet", 30, Some(1), "G3-G5"),
    c(Chart::FromMemory, "trumpet", 30, Some(2), "G3-E5"),
    c(Chart::FromMemory, "trumpet", 30, Some(3), "G3-E5"),
    c(Chart::FromMemory, "horn", 30, None, "F3-F5"),
    c(Chart::FromMemory, "trombone", 30, None, "E2-F4"),
    c(Chart::FromMemory, "euphonium", 30, None, "E2-F4"),
    c(Chart::FromMemory, "tuba", 30, None, "E1-Eb3"),
];

#[cfg(test)]
mod tests {
    use super::*;
    use crate::music::instruments::{Instruments, is_over_the_break};

    #[test]
    fn every_cell_reads() {
        for row in &COMFORT {
            let found = Instruments::standard().find(row.instrument).exact();
            assert_eq!(found.map(|i| i.name.as_ref()), Some(row.instrument));
            let range = row.range();
            assert!(range.is_some_and(|r| !r.is_upside_down()), "{row:?}");
            let full = found.and_then(|i| i.full_range);
            assert!(full.zip(range).is_some_and(|(f, r)| f.holds_all(r)), "{row:?}");
        }
    }

    /// The three charts of grade 1 disagree on the clarinet's break, and stay apart.
    #[test]
    fn the_break_at_grade_one() {
        let over = |chart, part| {
            let row = by_chart(chart, "clarinet", Some(part), 10)?;
            Some(is_over_the_break(row.range()?.high))
        };
        assert_eq!(over(Chart::GradedPublisher, 1), Some(false));
        assert_eq!(over(Chart::ContestSelection, 1), Some(false));
        assert_eq!(over(Chart::GermanDefinitions, 1), Some(true));
        assert_eq!(over(Chart::GermanDefinitions, 2), Some(false));
    }

    #[test]
    fn looked_up() {
        let flute = comfort("flute", None, 10);
        let said: Vec<&str> = flute.iter().map(|row| row.written).collect();
        assert_eq!(said, ["G4-C6", "Eb4-C6", "G4-C6"]);
        let high = Pitch::read("D6");
        let grade = high.and_then(|p| first_grade(Chart::GradedPublisher, "flute", p));
        assert_eq!(grade, Some(15));
        assert_eq!(by_chart(Chart::SixNotes, "flute", None, 4), None);
    }
}
