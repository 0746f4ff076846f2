//! Families of instruments in a director's words.

use super::Family;

/// The family that a director's words mean.
pub fn family_named(words: &str) -> Option<Family> {
    let words = words.to_lowercase();
    let families = [
        (Family::Flutes, ["flutes", "flute", ""]),
        (Family::DoubleReeds, ["double reeds", "oboes", "bassoons"]),
        (Family::Clarinets, ["clarinets", "clarinet", "low reeds"]),
        (Family::Saxes, ["saxes", "saxophones", "saxophone"]),
        (Family::Trumpets, ["trumpets", "high brass", "cornets"]),
        (Family::Horns, ["horns", "horn", "middle brass"]),
        (Family::LowBrass, ["low brass", "trombones", "tubas"]),
        (Family::Strings, ["strings", "string", ""]),
        (Family::Keyboard, ["keyboard", "keyboards", "piano"]),
        (Family::Timpani, ["timpani", "kettledrums", ""]),
        (Family::Mallets, ["mallets", "keyboard percussion", "mallet"]),
        (Family::Battery, ["drums", "battery", "snare"]),
        (Family::Accessories, ["accessories", "percussion", "accessory"]),
    ];
    families
        .into_iter()
        .find(|(_, names)| names.contains(&words.as_str()))
        .map(|(family, _)| family)
}
