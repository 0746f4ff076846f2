//! Plans of bands written by hand.

use std::sync::Arc;

use super::*;
use crate::catalogue::CardFile;
use crate::notation::Kind;

const BAND: &str = "handbook
  teaching        at most 2 new skills a week, 3 weeks to a piece

ensemble \"Band\"
  season          2026-27
  meets           Tuesday and Thursday, not 2026-11-23 to 2026-11-27
  taught          quarter notes, eighth pairs, slurs by 2026-11-06
  introduced      syncopation

skill \"syncopation\"
  takes           3 weeks

skill \"triplets\"
  after           eighth pairs, swing
  takes           3 rehearsals

skill \"swing\"
  takes           1-2 weeks

concert \"Evening\"
  on              2026-12-10
  program
    \"A\"
    \"B\"

piece \"A\"
  asks            triplets, syncopation
";

fn planned(more: &str) -> BandPlan {
    let text = format!("{BAND}{more}");
    let file = Arc::new(CardFile::read("a.levare", &text));
    let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
    let concerts = to_come(&snapshot);
    let band = snapshot
        .names()
        .of(Kind::Ensemble, "Band")
        .next()
        .expect("a band");
    plan(&snapshot, band, &concerts, STEPS).expect("a plan")
}

/// Each skill with its weeks and by how many it is late.
fn drawn(plan: &BandPlan) -> Vec<(&str, u32, u32, u32)> {
    let all = plan.skills.iter();
    all.map(|skill| (skill.name.as_str(), skill.from, skill.until, skill.late))
        .collect()
}

#[test]
fn skills_are_taught_in_their_order_before_the_piece_is_begun() {
    let plan = planned("piece \"B\"\n  asks slurs, growling, mutes?\n");
    // Seven weeks with rehearsals to the concert, three of them for the piece.
    assert_eq!(plan.concerts[0].weeks, 7);
    // Half of three weeks is two; what the band's card promises is planned for its own day.
    let wanted = [
        ("slurs", 0, 1, 0),
        ("swing", 0, 2, 0),
        ("syncopation", 1, 3, 0),
        ("triplets", 2, 4, 0),
    ];
    assert_eq!(drawn(&plan), wanted);
    assert_eq!(plan.no_skills, ["growling"]);
    assert_eq!(plan.skills[1].under, ["triplets"]);
    assert!(plan.proven && plan.at_once == (2, true));
}

#[test]
fn what_a_piece_teaches_is_due_at_the_concert() {
    let late =
        planned("piece \"B\"\n  asks swing, triplets\n  performed 2025-05-05 \"Band\", took 7 weeks\n");
    let swing = late
        .skills
        .iter()
        .find(|skill| skill.name == "swing")
        .expect("swing");
    assert_eq!(swing.late, 2);
    let itself = planned(
        "piece \"B\"\n  asks swing\n  teaches swing\n  performed 2025-05-05 \"Band\", took 7 weeks\n",
    );
    let swing = itself
        .skills
        .iter()
        .find(|skill| skill.name == "swing")
        .expect("swing");
    assert_eq!(
        (swing.late, swing.taught_in.as_slice()),
        (0, ["B".to_owned()].as_slice())
    );
}

#[test]
fn an_easier_part_asks_nothing_of_the_others() {
    let plan = planned(
        "piece \"B\"\n  percussion\n    snare 1-8, asks staccato\n    easy snare 1-8, instead of snare, asks accidentals\n",
    );
    assert_eq!(plan.no_skills, Vec::<String>::new());
    let names: Vec<&str> = plan.skills.iter().map(|skill| skill.name.as_str()).collect();
    assert!(
        names.contains(&"staccato") && !names.contains(&"accidentals"),
        "{names:?}"
    );
}
