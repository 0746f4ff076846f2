//! What the handbook makes of findings everywhere: its severities, and what it lets stand.

use crate::catalogue::model::Handbook;

use super::finding::{Finding, Severity};
use super::stet::Stets;
use super::table::{RULES, number};

/// The handbook's word on findings, by the places of their rules in the table.
#[derive(Debug, Default)]
pub(super) struct Standing {
    wishes: Vec<Option<Severity>>,
    everywhere: Stets,
}

impl Standing {
    /// What a handbook says; nothing where there is none.
    pub fn of(handbook: Option<&Handbook>) -> Standing {
        let mut standing = Standing::default();
        let Some(handbook) = handbook else { return standing };
        standing.everywhere = Stets::of(&handbook.stets);
        if !handbook.severities.is_empty() {
            standing.wishes = vec![None; RULES.len()];
        }
        // The last word on a rule holds.
        for wish in &handbook.severities {
            let of_rule = number(&wish.phrase).and_then(|rule| standing.wishes.get_mut(rule));
            if let Some(of_rule) = of_rule {
                *of_rule = Severity::of_word(wish.word);
            }
        }
        standing
    }

    /// What the handbook lets stand on every card.
    pub fn everywhere(&self) -> &Stets {
        &self.everywhere
    }

    /// Gives findings the severities that the handbook wishes. A finding that is only a hint for a piece on the
    /// shelf is never made stronger.
    pub fn wish(&self, findings: &mut [Finding]) {
        if self.wishes.is_empty() {
            return;
        }
        for finding in findings {
            let Some(rule) = number(finding.phrase) else {
                continue;
            };
            let wished = self.wishes.get(rule).copied().flatten();
            if let (Some(wished), Some(rule)) = (wished, RULES.get(rule))
                && (finding.severity == rule.severity || wished > finding.severity)
            {
                finding.severity = wished;
            }
        }
    }
}
