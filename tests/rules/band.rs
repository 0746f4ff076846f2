//! What the rules that judge a piece for a band find: in the demo and the three catalogues the slips that
//! their pages of verdicts name and nothing else, and in small catalogues what a table says.

use std::sync::Arc;

use levare::catalogue::{CardFile, Snapshot};
use levare::findings::{self, Family, Finding, Severity};

use crate::keys_and_time::found;

#[test]
fn slips_of_ranges_percussion_and_coverage_are_found_and_nothing_else() {
    for (folder, expected) in [
        (
            "demo",
            vec![
                "The Cogwright's Attic | English horn | nobody plays it",
                "Slow River, Low Sun | solo 17-24 | solo without a cue",
                "Where the Heron Stands | D3-A4 | off the instrument",
                "Drum Hill | tambourine      41-56 | short of percussionists",
                "Snow on the Signal House | over the break at 49-56 | over the break",
                "Bells of Marrow Lane | chimes | not in the closet",
            ],
        ),
        (
            "tests/catalogues/neat",
            vec![
                "The Mapmaker's Daughter | tam-tam | not in the closet",
                "Chorale for the Last Day | Ab1-Bb4 | off the instrument",
            ],
        ),
        (
            "tests/catalogues/hasty",
            vec![
                "6th Gr Band | Tpt. | section out of balance | hint",
                "5th Gr Band | 5th Gr Band | nobody on the bass line | hint",
                "Basement Stomp | Bb2-Bb3 | part off its register",
                "First Five | Bb4-F6 | beyond the publisher's grade",
                "Wagon Whelk | 28-40 | entrances overlap",
                "Gray Morning | cued in bassoon | cue nobody has | hint",
            ],
        ),
        (
            "tests/catalogues/odd",
            vec![
                "Long Bridge | retune F2 to G2 at 34 | retune too quick | hint",
                "Gatepost March | solo 53-60 | solo without a cue",
                "Kettles | retune F2 to C2 at 33 | not in the closet",
                "Winter Crate | 2 euphonium | treble clef player without a part",
                "Four Doors | tam-tam  33-36 | short of percussionists",
            ],
        ),
    ] {
        let found = found(folder, &[Family::Ranges, Family::Percussion, Family::Coverage]);
        let lines: Vec<&str> = found.iter().map(|(line, _)| line.as_str()).collect();
        assert_eq!(lines, expected, "in {folder}:\n{found:#?}");
    }
}

/// Whether a finding is one of the families that this file is about.
fn ours(finding: &Finding) -> bool {
    let family = findings::find(finding.phrase).map(|rule| rule.family);
    matches!(
        family,
        Some(Family::Ranges | Family::Percussion | Family::Coverage)
    )
}

/// The findings of a band and a piece: `words marked | phrase`, and `| hint` where it is one. With a
/// concert the piece is on its program.
fn drawn(band: &str, piece: &str, concert: Option<&str>) -> Vec<String> {
    let deeper = |text: &str| text.lines().map(|line| format!("  {line}\n")).collect::<String>();
    let program = match concert {
        Some(more) => format!(
            "concert \"C\"\n  on  2027-05-01\n  for  \"B\"\n{}  program  \"A\"\n",
            deeper(more)
        ),
        None => String::new(),
    };
    let handbook = "handbook\n  players  at least 2 to a wind part\n  one player  triangle and wood block\n";
    let text = format!(
        "{handbook}ensemble \"B\"\n{}piece \"A\"\n{}{program}",
        deeper(band),
        deeper(piece)
    );
    let file = Arc::new(CardFile::read("example.levare", &text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let mut all = Vec::new();
    for (id, entry) in snapshot.entries() {
        for finding in findings::of_card(&snapshot, id).into_iter().filter(ours) {
            let hint = if finding.severity == Severity::Hint {
                " | hint"
            } else {
                ""
            };
            all.push(format!(
                "{} | {}{hint}",
                finding.span.slice(&entry.text),
                finding.phrase
            ));
        }
    }
    all
}

#[test]
fn judged_for_a_band_in_a_concert() {
    let table: &[(&str, &str, &[&str])] = &[
        // The break: the range alone, the words alone, both together, an undivided section, a card that says nothing.
        (
            "players  clarinet 10, 5 over the break",
            "parts\n  clarinet 2  A3-B4",
            &["A3-B4 | over the break"],
        ),
        (
            "players  clarinet 10, 5 over the break",
            "parts\n  clarinet 2  A3-Bb4",
            &[],
        ),
        (
            "players  clarinet 10, 5 over the break",
            "parts\n  clarinet 1  A3-C5\n  clarinet 2  A3-A4",
            &[],
        ),
        (
            "players  clarinet 10, 5 over the break",
            "parts\n  clarinet 1-2  A3-C5",
            &["A3-C5 | over the break"],
        ),
        (
            "players  clarinet 10, 5 over the break",
            "parts\n  clarinet  over the break at 9",
            &["over the break at 9 | over the break"],
        ),
        (
            "players  clarinet 10, all able to cross the break",
            "parts\n  clarinet  A3-C5, over the break",
            &[],
        ),
        (
            "players  clarinet 10, none over the break",
            "parts\n  clarinet 1-2\n  clarinet 1  A3-C5",
            &["A3-C5 | over the break"],
        ),
        (
            "players  clarinet 10",
            "parts\n  clarinet  A3-C5, over the break",
            &[],
        ),
        (
            "players  clarinet 10, 5 over the break",
            "parts\n  clarinet  A3-C5?",
            &[],
        ),
        (
            "players  clarinet 10, 5 over the break",
            "parts\n  clarinet  G3-Bb4 concert",
            &["G3-Bb4 concert | over the break"],
        ),
        // Ranges that the band's card gives, for a section or for one of its parts.
        (
            "players  trumpet 8\nranges  trumpet Bb3-D5",
            "parts\n  trumpet  Bb3-E5",
            &["Bb3-E5 | beyond what they play"],
        ),
        (
            "players  trumpet 8\nranges  trumpet Bb3-D5, trumpet 1 Bb3-G5",
            "parts\n  trumpet 1  Bb3-E5\n  trumpet 2  A3-D5",
            &["A3-D5 | beyond what they play"],
        ),
        (
            "players  trumpet 8, 2 up to G5\nranges  trumpet Bb3-D5",
            "parts\n  trumpet 1-4\n  trumpet 1  Bb3-E5",
            &[],
        ),
        (
            "players  trumpet 8, 2 up to G5\nranges  trumpet Bb3-D5",
            "parts\n  trumpet  Bb3-E5",
            &["Bb3-E5 | beyond what they play"],
        ),
        (
            "players  clarinet 8\nranges  clarinet E3-C6",
            "parts\n  clarinet  D3-C5",
            &["D3-C5 | off the instrument"],
        ),
        // Percussion at once, by measures and by what the card says it needs.
        (
            "percussionists  1",
            "percussion\n  snare  1-8\n  gong  8",
            &["gong  8 | short of percussionists"],
        ),
        ("percussionists  1", "percussion\n  snare  1-8\n  gong  9", &[]),
        (
            "percussionists  1",
            "percussion\n  triangle  1-8\n  wood block  1-8",
            &[],
        ),
        ("percussionists  1", "percussion  snare, gong, bells", &[]),
        (
            "percussionists  3",
            "needs  4-5 percussionists",
            &["4-5 percussionists | short of percussionists"],
        ),
        ("percussionists  4", "needs  5-6 percussionists, 4 minimum", &[]),
        ("percussionists  3", "needs  about 4 percussionists", &[]),
        (
            "season  2026",
            "percussion\n  snare  1-8\n  gong  8\nneeds  1 percussionist",
            &["1 percussionist | needs fewer than it takes"],
        ),
        // The cupboard.
        (
            "owns  snare",
            "percussion  snare, tam-tam, soup pot",
            &["tam-tam | not in the closet"],
        ),
        (
            "owns  cymbals, mallets",
            "percussion  crash cymbals, suspended cymbal, marimba",
            &[],
        ),
        ("season  2026", "percussion  tam-tam", &[]),
        (
            "owns  timpani 29 and 26",
            "percussion\n  timpani  1-8, notes F2 G2 D3",
            &["notes F2 G2 D3 | not in the closet"],
        ),
        ("owns  timpani", "percussion\n  timpani  1-8, notes D2 G2", &[]),
        // Coverage.
        (
            "players  flute 4",
            "parts\n  oboe  C4-C5",
            &["oboe | nobody plays it"],
        ),
        (
            "players  flute 4",
            "parts\n  oboe  C4-C5, solo 5-8",
            &["oboe | nobody plays it"],
        ),
        (
            "players  flute 4",
            "parts\n  oboe  solo 5-8, cued in bassoon",
            &["oboe | nobody plays it"],
        ),
        ("players  flute 4", "parts\n  oboe  solo 5-8, cued in flute", &[]),
        (
            "players  flute 4",
            "parts\n  oboe  same as flute\n  bassoon  optional\n  low voices  octaves",
            &[],
        ),
        (
            "players  flute 4",
            "parts\n  oboe  C4-C5\n  flute  doubles oboe",
            &[],
        ),
        (
            "players  flute 4",
            "parts\n  part 1  for flute or oboe\n  part 2  for tuba or bassoon",
            &["part 2 | nobody plays it"],
        ),
        ("players  flute 4, 1 also piccolo", "parts\n  piccolo  D4-C5", &[]),
        ("players  euphonium 2", "parts\n  baritone T.C.  C4-C5", &[]),
        ("season  2026", "parts\n  oboe  solo 5-8", &[]),
        (
            "players  oboe 1",
            "parts\n  oboe  solo",
            &["solo | solo without a cue"],
        ),
        ("players  oboe 2", "parts\n  oboe  solo", &[]),
        (
            "players  oboe 1, flute 4",
            "parts\n  oboe  solo, same as flute",
            &[],
        ),
        (
            "players  oboe 1, flute 4",
            "parts\n  oboe  solo 5-8, cued in oboe",
            &["solo 5-8 | solo without a cue"],
        ),
        ("players  oboe 1", "parts\n  oboe  improvised solo 5-8", &[]),
        (
            "players  horn 2",
            "parts\n  horn 1-3",
            &["horn 1-3 | part short of players"],
        ),
        (
            "players  horn 3",
            "parts\n  horn 1\n  horn 2",
            &["horn 2 | part short of players"],
        ),
        ("players  horn 4", "parts\n  horn 1\n  horn 2", &[]),
        ("players  horn 1", "parts\n  horn  A3-C5", &[]),
        ("players  horn 3", "parts\n  horn 1\n  horn 2  optional", &[]),
    ];
    let mut wrong = Vec::new();
    for (band, piece, wanted) in table {
        let found = drawn(band, piece, Some(""));
        if found != *wanted {
            wrong.push(format!("{band}\n{piece}\n  found {found:?}\n  wanted {wanted:?}"));
        }
    }
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

#[test]
fn on_the_shelf_and_on_the_program() {
    let band = "players  flute 4, oboe 1\npercussionists  1\nowns  snare, gong\nborrowed  chimes";
    let table: &[(&str, Option<&str>, &[&str])] = &[
        ("parts\n  bassoon  C3-C4", None, &[]),
        ("parts\n  bassoon  solo 5-8", None, &["bassoon | nobody plays it"]),
        (
            "parts\n  oboe  solo 5-8",
            None,
            &["solo 5-8 | solo without a cue"],
        ),
        (
            "percussion\n  snare  1-8\n  gong  8",
            None,
            &["gong  8 | short of percussionists"],
        ),
        ("percussion\n  chimes  8", Some(""), &[]),
        ("percussion\n  bells  8", None, &["bells | not in the closet"]),
        ("percussion\n  bells  8", Some(""), &["bells | not in the closet"]),
        ("percussion\n  bells  8", Some("borrowed  bells"), &[]),
        (
            "percussion\n  bells  8\n  snare  8, instead of bells",
            Some(""),
            &[],
        ),
    ];
    for (piece, concert, wanted) in table {
        assert_eq!(drawn(band, piece, *concert), *wanted, "{piece}\n{concert:?}");
    }
}

/// With a band and one card everything is told in full strength. Once a concert to come lists a piece, the
/// other pieces are left in peace; a concert that lists nothing yet, or is over, hushes nobody.
#[test]
fn the_shelf_is_quiet_once_a_concert_to_come_lists_a_piece() {
    let cards = "ensemble \"B\"\n  percussionists\n    P1  snare\n    P2\n  owns  snare\n  keys  F major\npiece \"A\"\n  tonal center  Eb major\n  percussion\n    snare  1-8\n    gong  8\n    triangle  8\npiece \"Other\"\n";
    let told = |more: &str| -> Vec<(&'static str, bool)> {
        let file = Arc::new(CardFile::read("example.levare", &format!("{cards}{more}")));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let ids: Vec<_> = snapshot.entries().map(|(id, _)| id).collect();
        ids.into_iter()
            .flat_map(|id| findings::of_card(&snapshot, id))
            .map(|finding| (finding.phrase, finding.severity == Severity::Hint))
            .collect()
    };
    let phrases = [
        "key not taught",
        "not in the closet",
        "not in the closet",
        "short of percussionists",
    ];
    let all = |hints: bool| -> Vec<(&str, bool)> {
        let mut all: Vec<_> = phrases.iter().map(|phrase| (*phrase, hints)).collect();
        all.sort_unstable();
        all
    };
    let table = [
        ("", false),
        ("concert \"C\"\n  on  2026-12-10\n", false),
        ("concert \"C\"\n  on  2026-03-10\n  program  \"Other\"\n", false),
        ("concert \"C\"\n  on  2026-12-10\n  program  \"Other\"\n", true),
        ("concert \"C\"\n  program  \"Other\"\n", true),
        ("concert \"C\"\n  on  2026-12-10\n  program  \"A\"\n", false),
    ];
    for (more, hints) in table {
        let mut told = told(more);
        told.retain(|(phrase, _)| phrases.contains(phrase));
        told.sort_unstable();
        assert_eq!(told, all(hints), "{more}");
    }
}

/// Nobody plays an instrument: told of each once, of the players after whom it is said what they play.
#[test]
fn instruments_that_no_percussionist_plays() {
    let table: &[(&str, &str, &[&str])] = &[
        (
            "percussionists\n  P1  snare\n  P2  mallets",
            "percussion\n  crash cymbals  1-4\n  snare  1-4\n  crash cymbals  9-12",
            &["crash cymbals | instrument without a player"],
        ),
        (
            "percussionists\n  P1  snare\n  P2",
            "percussion\n  crash cymbals  1-4",
            &[],
        ),
        ("percussionists  2", "percussion\n  crash cymbals  1-4", &[]),
        (
            "percussionists\n  P1  everything but timpani",
            "percussion\n  timpani  1-4",
            &["timpani | instrument without a player"],
        ),
        (
            "percussionists\n  P1  snare\nowns  snare",
            "percussion\n  gong  1-4",
            &["gong | not in the closet"],
        ),
        (
            "percussionists\n  P1  snare\nowns  snare, gong",
            "percussion\n  gong  1-4, optional\n  gong  9, same as snare",
            &[],
        ),
    ];
    for (band, piece, wanted) in table {
        assert_eq!(drawn(band, piece, None), *wanted, "{band}\n{piece}");
    }
}

/// Bands that play together are one, and a piece on the shelf that suits one of two bands draws nothing.
#[test]
fn two_bands() {
    let bands = "ensemble \"B\"\n  players  flute 4\n  percussionists  1\nensemble \"J\"\n  players  guitar 1\n  percussionists  2\n";
    let piece = "piece \"A\"\n  parts\n    flute  solo 1\n    guitar  solo 2\n  percussion\n    snare  1-2\n    gong  1-2\n";
    let concert =
        |who: &str| format!("concert \"C\"\n  on  2027-05-01\n  program\n    for {who}\n      \"A\"\n");
    let table = [
        (String::from("handbook\n  for  \"B\", \"J\"\n"), vec![]),
        (concert("\"B\" and \"J\""), vec!["solo 2 | solo without a cue"]),
        (
            concert("\"B\""),
            vec!["guitar | nobody plays it", "gong  1-2 | short of percussionists"],
        ),
        (
            concert("\"J\""),
            vec!["flute | nobody plays it", "solo 2 | solo without a cue"],
        ),
    ];
    for (more, wanted) in table {
        let file = Arc::new(CardFile::read("example.levare", &format!("{bands}{piece}{more}")));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let mut all = Vec::new();
        for (id, entry) in snapshot.entries() {
            for finding in findings::of_card(&snapshot, id).into_iter().filter(ours) {
                all.push(format!(
                    "{} | {}",
                    finding.span.slice(&entry.text),
                    finding.phrase
                ));
            }
        }
        assert_eq!(all, wanted, "{more}");
    }
}

/// The octave that is offered for a note off the instrument.
#[test]
fn the_likely_octave() {
    let table = [
        // Two octaves are no slip of the hand, so none is offered.
        ("tuba  Ab1-Bb4", None),
        ("tuba  Bb1-Bb4", Some("Write Bb3")),
        ("clarinet  D3-A4", Some("Write D4")),
        ("flute  A2-A3", None),
    ];
    for (row, wanted) in table {
        let file = Arc::new(CardFile::read(
            "example.levare",
            &format!("piece \"A\"\n  parts\n    {row}\n"),
        ));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let repairs: Vec<String> = snapshot
            .entries()
            .flat_map(|(id, _)| findings::of_card(&snapshot, id))
            .flat_map(|finding| finding.repairs)
            .map(|repair| repair.title)
            .collect();
        assert_eq!(repairs.first().map(String::as_str), wanted, "{row}");
    }
}
