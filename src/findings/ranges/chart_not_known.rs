//! A chart of ranges that Levare does not have.

use crate::findings::card::Card;
use crate::findings::finding::{Repair, Saying};
use crate::findings::rule::{Notice, Noticed};
use crate::music::charts::Chart;
use crate::rule;
use crate::text::Edit;
use crate::text::sentences::joined;

rule! {
    /// A handbook that follows a chart of ranges by a name that is none of those Levare has, or without a
    /// grade.
    ///
    /// # Why it matters
    ///
    /// Sections without a range on the band's card are then judged by nothing, and nobody notices.
    ///
    /// # Draws it
    ///
    /// ```levare
    /// handbook
    ///   follows         contest selektion, grade 1
    ///                   ^^^^^^^^^^^^^^^^^^^^^^^^^^
    /// ```
    ///
    /// # Does not
    ///
    /// ```levare
    /// handbook
    ///   follows         contest bands, grade 1
    /// ```
    ///
    /// # What to do
    ///
    /// Write one of the charts' names, a comma and the grade.
    ChartNotKnown: "chart not known", Ranges, Warning, reads Card, looks at Handbook
}

impl Notice for ChartNotKnown {
    type What = Option<&'static str>;

    fn notice(card: &Card<'_>) -> Vec<Noticed<Self::What>> {
        let Some(handbook) = card.entry.handbook() else {
            return Vec::new();
        };
        let Some(said) = handbook.follows.as_ref().filter(|said| said.is_certain()) else {
            return Vec::new();
        };
        if handbook.chart().is_some() {
            return Vec::new();
        }
        let name = said.value.split(',').next().unwrap_or("");
        let near = crate::notation::nearest(name, Chart::ALL.into_iter().map(Chart::name));
        vec![Noticed::new(said.span, near)]
    }

    fn say(what: &Self::What, _card: &Card<'_>) -> Saying {
        let names: Vec<String> = Chart::ALL
            .into_iter()
            .map(|chart| chart.name().to_owned())
            .collect();
        let meant = what.map(|name| format!(" Perhaps {name}?")).unwrap_or_default();
        Saying {
            place: "follows".to_owned(),
            says: format!("Levare has no chart of ranges by these words.{meant}"),
            why: "Sections whose range no band gives are then judged by nothing.".to_owned(),
            todo: format!(
                "Write a chart, a comma and its grade, such as contest bands, grade 1; the charts are {}.",
                joined(&names)
            ),
        }
    }

    fn repairs(noticed: &Noticed<Self::What>, card: &Card<'_>) -> Vec<Repair> {
        let Some(name) = noticed.what else {
            return Vec::new();
        };
        let rest = card
            .words(noticed.span)
            .split_once(',')
            .map_or("", |(_, rest)| rest.trim());
        if rest.is_empty() {
            return Vec::new();
        }
        let text = format!("{name}, {rest}");
        vec![Repair::to_decide(
            format!("Write {text}"),
            vec![Edit::replace(noticed.span, text)],
        )]
    }
}
