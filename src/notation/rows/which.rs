//! Which instrument a row means by words beside its name, and how many parts it counts.

use crate::notation::facts;
use crate::notation::facts::sayings::Saying;
use crate::notation::fields::RowsOf;
use crate::notation::names;
use crate::notation::row::{Fact, Relation, RowFact, RowItem};
use crate::notation::scan;

/// Instruments that players of a related one take up within a piece (common practice, no source).
const SWITCHED_TO: [&str; 8] = [
    "piccolo",
    "alto flute",
    "English horn",
    "Eb clarinet",
    "soprano sax",
    "flugelhorn",
    "contrabassoon",
    "contra-alto clarinet",
];

/// Which bass is meant, where a word behind the name says it, and the bytes of that word.
pub(super) fn which_bass(name: &str, behind: &str) -> Option<(&'static str, usize)> {
    let is = |word: &str| name.eq_ignore_ascii_case(word);
    // The baritone sax has no part in a clef of its own, so that with a clef it is the brass that is meant.
    if (is("bari") || is("bari."))
        && Saying::leading(behind).is_ok_and(|(_, said)| matches!(said.0, "treble clef" | "bass clef"))
    {
        return Some(("baritone", 0));
    }
    if !is("bass") {
        return None;
    }
    let kinds = [
        ("electric", "bass guitar"),
        ("guitar", "bass guitar"),
        ("string", "string bass"),
        ("upright", "string bass"),
        ("double", "string bass"),
        ("acoustic", "string bass"),
    ];
    kinds.iter().find_map(|(word, full)| {
        let rest = scan::after_phrase(behind, word)?;
        let ends = rest.is_empty() || rest.starts_with([',', ' ', ';']);
        ends.then_some((*full, behind.len() - rest.len()))
    })
}

/// `flute 2 parts`, `flutes in two parts`: how many numbered parts an instrument has, and the bytes that say so. One
/// part may as well be its first.
pub(super) fn numbered_parts(name: &str, behind: &str) -> Option<(u32, usize)> {
    let body = scan::after_phrase(behind, "in").map_or(behind, str::trim_start);
    let (rest, number) = scan::number(body)
        .or_else(|_| facts::keywords::counted(body))
        .ok()?;
    let unit = rest.trim_start();
    let ends = ["parts", "pts"]
        .iter()
        .find_map(|word| scan::after_phrase(unit, word))?;
    let fits = (2..=9).contains(&number) && unit.len() < rest.len();
    let known = || crate::music::Instruments::standard().find(name).exact().is_some();
    (fits && known()).then(|| (number, behind.len() - ends.len()))
}

/// How many parts or players there are, and the bytes that say so.
pub(super) fn parts_counted(text: &str, of: RowsOf) -> Option<(u32, usize)> {
    let body = text.strip_prefix("about ").unwrap_or(text);
    let lead = text.len() - body.len();
    let named = |words: &str| {
        let kinds = [
            "percussion parts",
            "percussionists",
            "percussion players",
            "instruments",
            "players",
            "parts",
            "part",
            "wind parts",
        ];
        kinds
            .into_iter()
            .find(|kind| scan::phrase(kind)(words).is_ok())
            .map(str::len)
    };
    if of == RowsOf::Percussion
        && ["none", "no percussion"]
            .into_iter()
            .any(|none| body.trim_end_matches('?').eq_ignore_ascii_case(none))
    {
        return Some((0, text.len()));
    }
    let number = |words: &str| {
        scan::number(words)
            .or_else(|_| facts::keywords::counted(words))
            .ok()
            .map(|(rest, number)| (number, words.len() - rest.len()))
    };
    let (number, taken) = match number(body) {
        Some((number, taken)) => {
            let rest = body.get(taken..)?;
            let blank = rest.len() - rest.trim_start().len();
            (blank > 0).then_some(())?;
            (number, taken + blank + named(rest.trim_start())?)
        }
        // `parts 7`: the same said the other way round.
        None => {
            let kind = named(body)?;
            // `part 1` is a part of a flexible piece.
            (body.get(..kind)? != "part").then_some(())?;
            let rest = body.get(kind..)?;
            let blank = rest.len() - rest.trim_start().len();
            let (number, taken) = number(rest.trim_start())?;
            (!rest.trim_start().contains('-')).then_some(())?;
            (number, kind + blank + taken)
        }
    };
    let open = body.get(taken..).is_some_and(|rest| rest.starts_with('?'));
    Some((number, lead + taken + usize::from(open)))
}

/// `flute 2 doubles piccolo` names the other instrument of that player, where `oboe doubles flute` names the same line.
pub(super) fn switches(row: &mut RowItem) {
    use crate::music::Instruments;
    let family = |name: &str| Instruments::standard().find(names::bare(name)).exact();
    let doubles = |fact: &RowFact| {
        matches!(
            fact.what,
            Fact::Relation {
                relation: Relation::Doubles,
                ..
            }
        )
    };
    if !row.facts.iter().any(doubles) {
        return;
    }
    let Some(own) = row.names.first().and_then(|name| family(&name.text)) else {
        return;
    };
    for fact in &mut row.facts {
        let Fact::Relation {
            relation: Relation::Doubles,
            target,
            place: None,
            ..
        } = &fact.what
        else {
            continue;
        };
        let Some(other) = family(target) else { continue };
        let related = other.family == own.family && other.name != own.name;
        if related && SWITCHED_TO.contains(&other.name.as_ref()) {
            fact.what = Fact::Switches(other.name.to_string());
        }
    }
}

#[cfg(test)]
mod tests {
    use crate::notation::read;
    use crate::notation::row::Fact;

    fn rows(line: &str) -> Vec<String> {
        let reading = read(&format!("piece \"Air\"\n  parts\n    {line}\n"));
        let rows = reading.fields.iter().flat_map(|field| field.rows());
        rows.map(|row| {
            let names: Vec<String> = row.row.names.iter().map(|name| name.one_form()).collect();
            let spared = row.row.facts.iter().any(|fact| fact.what == Fact::Optional);
            format!("{}{}", names.join("+"), if spared { " optional" } else { "" })
        })
        .collect()
    }

    #[test]
    fn parts_that_are_counted_have_numbers() {
        assert_eq!(rows("flute: 2 parts"), ["flute 1-2"]);
        assert_eq!(rows("cl 3 pts"), ["clarinet 1-3"]);
        // What is said of the next name is not said of them.
        assert_eq!(
            rows("flutes in two parts, piccolo ad lib."),
            ["flutes 1-2", "piccolo optional"]
        );
        // One part, or what the first part does: nobody can tell.
        assert_eq!(rows("flute 1 part"), ["flute 1"]);
        assert_eq!(rows("low voices 2 parts"), ["low voices"]);
    }
}
