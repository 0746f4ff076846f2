//! Odd rosters and cards that leave things out: a clear word and a partial answer, never a guess told as
//! certain.

use super::share;

const PIECE: &str = "piece \"Rill\"
  meter 4/4
  tempo quarter = 120
  measures 60
  percussion
    snare         1-60
    bass drum     1-60
    timpani       9-24
    bells         30-40
";

fn band(roster: &str) -> String {
    format!("ensemble \"Band\"\n{roster}\n")
}

/// What is written in place of what, who is there, and what must be said and what must not.
struct Case {
    what: &'static str,
    instead: &'static [(&'static str, &'static str)],
    roster: &'static str,
    sharing: &'static str,
    says: &'static [&'static str],
    not: &'static [&'static str],
}

const THREE: &str = "  percussionists\n    P1 P2 P3  everything";

#[test]
fn a_clear_word_and_a_partial_answer() {
    let cases = [
        Case {
            what: "no band at all",
            instead: &[],
            roster: "",
            sharing: "nobody known",
            says: &["no band", "It takes 3 players, because snare, bass drum and"],
            not: &["Left out"],
        },
        Case {
            what: "a band that does not say",
            instead: &[],
            roster: "  owns snare",
            sharing: "nobody known",
            says: &[
                "whose card does not say how many percussionists there are",
                "It takes 3 players",
            ],
            not: &["Left out"],
        },
        Case {
            what: "no percussionist",
            instead: &[],
            roster: "  percussionists 0",
            sharing: "left out snare, bass drum, timpani, bells",
            says: &["no percussionist", "There is no percussionist to give a part to."],
            not: &["Free:"],
        },
        Case {
            what: "one",
            instead: &[],
            roster: "  percussionists 1",
            sharing: "Player 1 timpani, bells; left out snare, bass drum",
            says: &[
                "1 percussionist ",
                "Left out: snare and bass drum",
                "and only one player is there",
            ],
            not: &["Free:"],
        },
        Case {
            what: "thirty",
            instead: &[],
            roster: "  percussionists 30",
            sharing: "Player 1 snare; Player 2 bass drum; Player 3 bells; Player 4 timpani",
            says: &["30 percussionists", "It takes 3 players", "Free: 26 players."],
            not: &["Left out"],
        },
        Case {
            what: "nobody on timpani",
            instead: &[],
            roster: "  percussionists\n    P1 P2 P3 P4  everything but timpani",
            sharing: "P1 snare; P2 bass drum; P3 bells; left out timpani",
            says: &["Left out: timpani, because nobody who is there plays them."],
            not: &["every way was tried"],
        },
        Case {
            what: "the one on timpani is not there",
            instead: &[],
            roster: "  percussionists\n    P1 snare, bass drum, bells\n    P2 snare, bass drum, bells\n    T timpani",
            sharing: "P1 snare; P2 bass drum; T timpani; left out bells",
            says: &["Left out: bells"],
            not: &[],
        },
        Case {
            what: "no measures at all",
            instead: &[("  1-60", ""), ("  9-24", ""), ("  30-40", "")],
            roster: THREE,
            sharing: "P1 bass drum; P2 timpani; P3 bells; left out snare",
            says: &[
                "A rough count: the card does not say in which measures",
                "counted as playing at once",
            ],
            not: &["sound at once at measure", "from memory"],
        },
        Case {
            what: "one part without measures",
            instead: &[("  30-40", "")],
            roster: THREE,
            sharing: "P1 snare; P2 bass drum; P3 timpani",
            says: &["Not counted, because the card does not say for certain when it plays: bells."],
            not: &["rough count"],
        },
        Case {
            what: "measures from memory",
            instead: &[("30-40", "30-40?")],
            roster: THREE,
            sharing: "P1 snare; P2 bass drum; P3 timpani",
            says: &["Not counted", "bells"],
            not: &[],
        },
        Case {
            what: "measures that the piece does not have",
            instead: &[("30-40", "70-80")],
            roster: THREE,
            sharing: "P1 snare; P2 bass drum; P3 timpani",
            says: &["Not counted, because the piece has no such measures: bells."],
            not: &["does not say for certain"],
        },
        Case {
            what: "no tempo",
            instead: &[("  tempo quarter = 120\n", "")],
            roster: THREE,
            sharing: "P1 snare; P2 bass drum; P3 timpani, bells",
            says: &["A rough count: the card does not say the tempo.", "not seconds"],
            not: &["from memory", " s there"],
        },
        Case {
            what: "no meter",
            instead: &[("  meter 4/4\n", "")],
            roster: THREE,
            sharing: "P1 snare; P2 bass drum; P3 timpani, bells",
            says: &["A rough count: the card does not say the meter.", "not seconds"],
            not: &["from memory", " s there"],
        },
        Case {
            what: "no count of measures",
            instead: &[("  measures 60\n", "")],
            roster: THREE,
            sharing: "P1 snare; P2 bass drum; P3 timpani, bells",
            says: &["Not certain: the card does not say how many measures there are"],
            not: &["rough count"],
        },
        Case {
            what: "parts only counted",
            instead: &[(
                "    snare         1-60\n    bass drum     1-60\n    timpani       9-24\n    bells         30-40\n",
                "    9 parts\n",
            )],
            roster: THREE,
            sharing: "",
            says: &["The card counts 9 percussion parts and names none of them"],
            not: &["It takes"],
        },
        Case {
            what: "no percussion",
            instead: &[(
                "  percussion\n    snare         1-60\n    bass drum     1-60\n    timpani       9-24\n    bells         30-40\n",
                "",
            )],
            roster: THREE,
            sharing: "",
            says: &["The card names no percussion parts."],
            not: &["It takes"],
        },
    ];
    let mut faults: Vec<String> = Vec::new();
    for case in cases {
        let mut text = PIECE.to_owned();
        for (old, new) in case.instead {
            assert!(text.contains(old), "{}: {old}", case.what);
            text = text.replace(old, new);
        }
        if !case.roster.is_empty() {
            text = band(case.roster) + &text;
        }
        let shared = share(&text, &[], false);
        let said = shared.says();
        let mut wrong: Vec<String> = Vec::new();
        if shared.sharing() != case.sharing {
            wrong.push(format!("is {}", shared.sharing()));
        }
        wrong.extend(
            case.says
                .iter()
                .filter(|words| !said.contains(**words))
                .map(|words| format!("not said: {words}")),
        );
        wrong.extend(
            case.not
                .iter()
                .filter(|words| said.contains(**words))
                .map(|words| format!("said: {words}")),
        );
        if !wrong.is_empty() {
            faults.push(format!("{}: {}\n  {said}", case.what, wrong.join("; ")));
        }
    }
    assert!(faults.is_empty(), "\n{}", faults.join("\n"));
}

#[test]
fn nobody_is_left_at_home_by_mistake() {
    let text = band("  percussionists\n    P1 P2  everything") + PIECE;
    let said = share(&text, &["P7"], false).says();
    assert!(
        said.contains("No percussionist in the band is called \"P7\"; the band has P1, P2."),
        "{said}"
    );
    let shared = share(&text, &["p2"], false);
    assert!(shared.says().contains("Not there: P2."), "{}", shared.says());
    assert!(!shared.sharing().contains("P2"), "{}", shared.sharing());
}

#[test]
fn any_card_is_answered() {
    // Figures out of all proportion must neither stop the program nor make it slow.
    let rows = [
        "    snare  1-4294967295\n",
        "    snare  4294967295-4294967295\n",
        "    snare  5-1\n",
        "    snare  1-60, 4294967295 players\n",
        "    snare  1-60, instead of snare\n    easy snare  1-60, instead of snare\n    snare  1-60, instead of easy snare\n",
        "    snare  same as snare\n",
    ];
    for rows in rows {
        for tempo in ["quarter = 4294967295", "quarter = 1", "quarter = 60-66"] {
            let text = format!(
                "handbook\n  change 99999999999 s to the timpani\n{}piece \"Rill\"\n  meter 4/4\n  tempo {tempo}\n  measures 4294967295\n  percussion\n{rows}",
                band(THREE)
            );
            assert!(!share(&text, &[], true).says().is_empty(), "{rows}");
        }
    }
}
