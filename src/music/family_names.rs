//! Families of instruments in a director's words.

use super::Family;

const NAMES: [(Family, &[&str]); 17] = [
    (Family::Flutes, &["flutes", "flute"]),
    (Family::DoubleReeds, &["double reeds", "oboes", "bassoons"]),
    (Family::Clarinets, &["clarinets", "clarinet", "low reeds"]),
    (Family::Saxes, &["saxes", "saxophones", "saxophone"]),
    (Family::Trumpets, &["trumpets", "high brass", "cornets"]),
    (Family::Horns, &["horns", "horn", "middle brass"]),
    (Family::LowBrass, &["low brass", "trombones", "tubas"]),
    (Family::Strings, &["strings", "string"]),
    (Family::Keyboard, &["keyboards", "keyboard", "piano"]),
    (Family::Voice, &["voices", "voice"]),
    (Family::Electronics, &["electronics", "electronic"]),
    (Family::Timpani, &["timpani", "kettledrums"]),
    (Family::Mallets, &["mallets", "keyboard percussion", "mallet"]),
    (
        Family::Battery,
        &["drums and cymbals", "drums", "battery", "snare"],
    ),
    (Family::Accessories, &["accessories", "percussion", "accessory"]),
    (Family::World, &["hand percussion", "world percussion"]),
    (Family::Other, &["other instruments", "other"]),
];

/// The family that a director's words mean.
pub fn family_named(words: &str) -> Option<Family> {
    let words = words.to_lowercase();
    NAMES
        .iter()
        .find(|(_, names)| names.contains(&words.as_str()))
        .map(|(family, _)| *family)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_family_is_read_by_its_own_name() {
        for (family, _) in NAMES {
            assert_eq!(family_named(family.name()), Some(family));
        }
        assert_eq!(family_named(""), None);
        assert_eq!(family_named("zqxv"), None);
    }
}
