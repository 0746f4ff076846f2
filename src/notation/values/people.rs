//! People and what they did: `Tam Lindqvist and R. Abara, arr. Nell Farrow`.

use std::fmt;

/// What somebody did for a piece.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Hash)]
pub enum Role {
    /// Wrote it.
    Composer,
    /// Arranged it.
    Arranger,
    /// Transcribed it.
    Transcriber,
    /// Edited it.
    Editor,
}

/// One person and a role.
#[derive(Debug, Clone, PartialEq, Eq, Hash)]
pub struct Person {
    /// What they did.
    pub role: Role,
    /// The name as written.
    pub name: String,
}

const LEADS: [(&str, Role); 12] = [
    ("arranged by", Role::Arranger),
    ("arr. by", Role::Arranger),
    ("arr.", Role::Arranger),
    ("arr", Role::Arranger),
    ("transcribed by", Role::Transcriber),
    ("trans.", Role::Transcriber),
    ("transcr.", Role::Transcriber),
    ("trans", Role::Transcriber),
    ("edited by", Role::Editor),
    ("ed.", Role::Editor),
    ("ed", Role::Editor),
    ("composed by", Role::Composer),
];

/// Reads the people of a `by` line. It splits only at `and` (or `&`) and before `arr.`, `trans.`, `ed.`,
/// so a comma inside a name stays in the name.
pub fn read(text: &str) -> Vec<Person> {
    let mut people = Vec::new();
    let mut role = Role::Composer;
    let mut name: Vec<&str> = Vec::new();
    let words: Vec<&str> = text.split_whitespace().collect();
    let mut at = 0;
    while let Some(&word) = words.get(at) {
        if word.eq_ignore_ascii_case("and") || word == "&" || word == "/" {
            finish(&mut people, role, &mut name);
            at += 1;
        } else if let Some((next, length)) = lead(words.get(at..).unwrap_or(&[])) {
            finish(&mut people, role, &mut name);
            role = next;
            at += length;
        } else {
            name.push(word);
            at += 1;
        }
    }
    finish(&mut people, role, &mut name);
    people
}

fn lead(words: &[&str]) -> Option<(Role, usize)> {
    LEADS.iter().find_map(|(lead, role)| {
        let mut length = 0;
        for part in lead.split(' ') {
            let word = words.get(length)?;
            if !word.trim_end_matches(':').eq_ignore_ascii_case(part) {
                return None;
            }
            length += 1;
        }
        Some((*role, length))
    })
}

fn finish(people: &mut Vec<Person>, role: Role, name: &mut Vec<&str>) {
    let joined = name.join(" ");
    let joined = joined.trim_end_matches([',', ';']).trim();
    if !joined.is_empty() {
        people.push(Person {
            role,
            name: joined.to_owned(),
        });
    }
    name.clear();
}

/// Writes people in the one form.
pub fn show(people: &[Person]) -> String {
    let mut text = String::new();
    let mut role = Role::Composer;
    for (index, person) in people.iter().enumerate() {
        if index > 0 {
            text.push_str(if person.role == role { " and " } else { ", " });
        }
        if person.role != role {
            text.push_str(match person.role {
                Role::Composer => "composed by ",
                Role::Arranger => "arr. ",
                Role::Transcriber => "trans. ",
                Role::Editor => "ed. ",
            });
        }
        role = person.role;
        text.push_str(&person.name);
    }
    text
}

impl fmt::Display for Person {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.name)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn people_are_split_only_where_they_should_be() {
        for (written, one_form, count) in [
            ("Odile Marchetti", "Odile Marchetti", 1),
            (
                "Tam Lindqvist and R. Abara, arr. Nell Farrow",
                "Tam Lindqvist and R. Abara, arr. Nell Farrow",
                3,
            ),
            (
                "Tam Lindqvist & R. Abara arranged by Nell Farrow",
                "Tam Lindqvist and R. Abara, arr. Nell Farrow",
                3,
            ),
            ("Ida Quell, Jr.", "Ida Quell, Jr.", 1),
            (
                "trad., arr. Nell Farrow, ed. P. Sund",
                "trad., arr. Nell Farrow, ed. P. Sund",
                3,
            ),
            ("arr. Nell Farrow", "arr. Nell Farrow", 1),
        ] {
            let people = read(written);
            assert_eq!(show(&people), one_form);
            assert_eq!(people.len(), count, "{written}");
            assert_eq!(read(&show(&people)), people, "{written} again");
        }
    }
}
