//! Phrases that rules went by before: what people wrote on their cards with them still holds.

/// Old phrases, each with the one that the rule goes by now.
pub const RENAMED: [(&str, &str); 12] = [
    (
        "bundle dearer than its pieces",
        "bundle costs more than its pieces",
    ),
    ("held twice", "listed twice"),
    ("idle card", "card nobody uses"),
    ("idle stet", "left over from before"),
    ("measures upside down", "measures backwards"),
    ("needs at odds", "needs disagree"),
    ("needs fewer than sound", "needs fewer than it takes"),
    ("not in the cupboard", "not in the closet"),
    ("range upside down", "range backwards"),
    ("road breaks off", "roadmap breaks off"),
    ("seat not there", "player not on the roster"),
    ("two edits met", "changes collide"),
];

/// The phrase that a rule goes by now; a phrase that was never renamed is its own.
pub fn today(phrase: &str) -> &str {
    let renamed = RENAMED.iter().find(|(old, _)| *old == phrase);
    renamed.map_or(phrase, |(_, new)| new)
}

#[cfg(test)]
mod tests {
    use std::sync::Arc;

    use super::*;
    use crate::catalogue::{CardFile, Snapshot};
    use crate::findings::{Finding, RULES, Severity, find, of_card};

    fn found(text: &str) -> Vec<Finding> {
        let file = Arc::new(CardFile::read("a.levare", text));
        let snapshot = Snapshot::new(vec![file], jiff::civil::date(2026, 10, 20));
        let all = snapshot.entries().flat_map(|(id, _)| of_card(&snapshot, id));
        all.collect()
    }

    #[test]
    fn every_old_phrase_leads_to_a_rule_and_is_none_itself() {
        for (old, new) in RENAMED {
            assert!(RULES.iter().any(|rule| rule.phrase == new), "{new}");
            assert!(RULES.iter().all(|rule| rule.phrase != old), "{old}");
            assert_eq!(find(old).map(|rule| rule.phrase), Some(new));
        }
        assert_eq!(today("over the break"), "over the break");
    }

    #[test]
    fn an_old_phrase_still_lets_a_finding_stand_and_is_offered_anew() {
        let card = |stet: &str| {
            format!(
                "piece \"A\"\n  parts\n    alto sax  B5-D4\n  stet {stet} because the part prints it so\n"
            )
        };
        let drawn = |text: &str| -> Vec<&str> { found(text).iter().map(|one| one.phrase).collect() };
        assert_eq!(drawn(&card("range backwards")), Vec::<&str>::new());
        let old = found(&card("range upside down"));
        let told: Vec<(&str, Severity)> = old.iter().map(|one| (one.phrase, one.severity)).collect();
        assert_eq!(told, [("phrase not known", Severity::Hint)]);
        let repairs = old.iter().flat_map(|one| &one.repairs);
        let mended: Vec<Option<String>> = repairs
            .map(|repair| crate::text::apply(&card("range upside down"), &repair.edits).ok())
            .collect();
        assert_eq!(mended, [Some(card("range backwards"))]);
    }

    #[test]
    fn the_handbook_may_use_an_old_phrase() {
        let text =
            |phrase: &str| format!("handbook\n  hint  {phrase}\npiece \"A\"\n  parts\n    alto sax  B5-D4\n");
        for phrase in ["range backwards", "range upside down"] {
            let found = found(&text(phrase));
            let range = found.iter().find(|one| one.phrase == "range backwards");
            assert_eq!(range.map(|one| one.severity), Some(Severity::Hint), "{phrase}");
        }
    }
}
