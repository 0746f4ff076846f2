//! What an editor may set: how much is shown, never what is found. What is found is the handbook's business,
//! so that the command line and every editor agree.

use serde_json::Value;

use crate::assist::hints::About;

/// The section that an editor keeps its settings in.
pub(super) const SECTION: &str = "levare";

/// How much is shown.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(super) struct Settings {
    /// Lines above cards.
    pub(super) lenses: bool,
    /// Whether a file is laid out before it is saved; none where the editor says nothing of it.
    pub(super) recopy_on_save: Option<bool>,
    lengths: bool,
    measures: bool,
    keys: bool,
    players: bool,
}

impl Default for Settings {
    fn default() -> Settings {
        Settings {
            lenses: true,
            recopy_on_save: None,
            lengths: true,
            measures: true,
            keys: true,
            players: true,
        }
    }
}

impl Settings {
    /// Whether such facts are shown beside words.
    pub(super) fn hints(&self, about: About) -> bool {
        match about {
            About::Lengths => self.lengths,
            About::Measures => self.measures,
            About::Keys => self.keys,
            About::Players => self.players,
        }
    }

    /// Takes what an editor says, whole or under the section's name:
    ///
    /// - `lenses`: `true` or `false`;
    /// - `recopyOnSave`: `true` or `false`;
    /// - `hints`: `true`, `false`, or a list of `"lengths"`, `"measures"`, `"keys"`, `"players"`.
    ///
    /// What is not understood is left as it is by default and told of, in words for the user.
    pub(super) fn read(said: &Value) -> (Settings, Vec<String>) {
        let mut settings = Settings::default();
        let mut strange = Vec::new();
        let said = said.get(SECTION).unwrap_or(said);
        let Some(all) = said.as_object() else {
            return (settings, strange);
        };
        for (name, value) in all {
            let taken = match (name.as_str(), value) {
                // An editor that knows the setting and has nothing to say of it.
                (_, Value::Null) => true,
                ("lenses", Value::Bool(shown)) => {
                    settings.lenses = *shown;
                    true
                }
                ("recopyOnSave", Value::Bool(wanted)) => {
                    settings.recopy_on_save = Some(*wanted);
                    true
                }
                ("hints", Value::Bool(shown)) => {
                    (settings.lengths, settings.measures) = (*shown, *shown);
                    (settings.keys, settings.players) = (*shown, *shown);
                    true
                }
                ("hints", Value::Array(wanted)) => {
                    let has = |word: &str| wanted.iter().any(|one| one == word);
                    (settings.lengths, settings.measures) = (has("lengths"), has("measures"));
                    (settings.keys, settings.players) = (has("keys"), has("players"));
                    let known = ["lengths", "measures", "keys", "players"];
                    wanted.iter().all(|one| known.iter().any(|known| one == known))
                }
                // These belong to the editors' own sides.
                ("program" | "trace", _) => true,
                _ => false,
            };
            if !taken {
                strange.push(format!(
                    "Levare cannot use what is set for levare.{name}. It knows these settings: lenses (true or false), \
                     recopyOnSave (true or false) and hints (true, false, or a list of lengths, measures, keys, \
                     players)."
                ));
            }
        }
        (settings, strange)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use serde_json::json;

    #[test]
    fn what_is_known_is_taken_and_the_rest_told() {
        let table = [
            (json!(null), true, true, 0),
            (json!({"hints": false}), true, false, 0),
            (
                json!({"levare": {"hints": ["keys"], "lenses": false}}),
                false,
                false,
                0,
            ),
            (json!({"hints": ["lengths"]}), true, true, 0),
            (json!({"hints": "yes"}), true, true, 1),
            (json!({"tempo": 4, "lenses": null}), true, true, 1),
            (json!({"hints": ["colors"]}), true, false, 1),
        ];
        for (said, lenses, lengths, strange) in table {
            let (settings, told) = Settings::read(&said);
            assert_eq!(
                (settings.lenses, settings.hints(About::Lengths), told.len()),
                (lenses, lengths, strange),
                "{said}: {told:?}"
            );
        }
    }
}
