//! Words put together into sentences: lists, numbers with their nouns, verbs that agree, articles.

/// Nouns of the trade that are several already, or stay as they are.
const SEVERAL: [&str; 19] = [
    "bells",
    "bongos",
    "brass",
    "castanets",
    "chimes",
    "claves",
    "congas",
    "crash cymbals",
    "criteria",
    "cymbals",
    "low reeds",
    "low voices",
    "maracas",
    "percussion",
    "reeds",
    "sleigh bells",
    "timpani",
    "toms",
    "woodwinds",
];

/// Nouns whose plural has to be known.
const IRREGULAR: [(&str, &str); 4] = [
    ("child", "children"),
    ("half", "halves"),
    ("person", "people"),
    ("shelf", "shelves"),
];

fn listed<S: AsRef<str>>(names: &[S], last: &str) -> String {
    let names: Vec<&str> = names.iter().map(AsRef::as_ref).collect();
    match names.as_slice() {
        [] => String::new(),
        [one] => (*one).to_owned(),
        [rest @ .., end] => format!("{} {last} {end}", rest.join(", ")),
    }
}

/// `clarinet`, `clarinet and trumpet`, `clarinet, tenor sax and trumpet`.
pub fn joined<S: AsRef<str>>(names: &[S]) -> String {
    listed(names, "and")
}

/// `clarinet`, `clarinet or trumpet`, `clarinet, tenor sax or trumpet`.
pub fn either<S: AsRef<str>>(names: &[S]) -> String {
    listed(names, "or")
}

/// Whether a noun names several things by itself, as `chimes` and `crash cymbals` do.
pub fn is_several(noun: &str) -> bool {
    SEVERAL.iter().any(|several| {
        noun.strip_suffix(several)
            .is_some_and(|before| before.is_empty() || before.ends_with(' '))
    })
}

/// Several of a noun: `flutes`, `alto saxes`, `euphoniums T.C.`, `marches`, `melodies`; `timpani` stays.
pub fn plural(noun: &str) -> String {
    for clef in [" T.C.", " B.C."] {
        if let Some(bare) = noun.strip_suffix(clef) {
            return format!("{}{clef}", plural(bare));
        }
    }
    if is_several(noun) {
        return noun.to_owned();
    }
    let last = noun.rsplit(' ').next().unwrap_or(noun);
    if let Some((one, many)) = IRREGULAR.iter().find(|(one, _)| *one == last) {
        return format!("{}{many}", noun.strip_suffix(one).unwrap_or(""));
    }
    let hissing = ["s", "x", "z", "ch", "sh"].iter().any(|end| noun.ends_with(end));
    match noun.strip_suffix('y') {
        _ if hissing => format!("{noun}es"),
        Some(stem) if !stem.ends_with(['a', 'e', 'i', 'o', 'u']) && !stem.is_empty() => format!("{stem}ies"),
        _ => format!("{noun}s"),
    }
}

/// One of a noun that names a group, where that is plain to make: `low reed`.
pub fn singular(noun: &str) -> &str {
    match noun.strip_suffix('s') {
        Some(bare) if noun.ends_with("reeds") || noun.ends_with("voices") || noun.ends_with("woodwinds") => {
            bare
        }
        _ => noun,
    }
}

/// A number with its noun: `1 flute`, `5 flutes`, `2 alto saxes`, `1 criterion`.
pub fn counted(count: usize, noun: &str) -> String {
    match (count, noun) {
        (1, "criteria") => "1 criterion".to_owned(),
        (1, _) => format!("1 {}", singular(noun)),
        _ => format!("{count} {}", plural(noun)),
    }
}

/// The verb that goes with so many: `is` or `are`, `has` or `have`, `reads` or `read`.
pub fn agree<'w>(count: usize, one: &'w str, many: &'w str) -> &'w str {
    if count == 1 { one } else { many }
}

/// `is` for one thing, `are` for several or for a noun such as `chimes`.
pub fn is_are(count: usize, noun: &str) -> &'static str {
    agree(if is_several(noun) { 2 } else { count }, "is", "are")
}

/// A sentence with its period, once: an abbreviation at the end has one already.
pub fn sentence(words: &str) -> String {
    format!("{}.", words.trim_end_matches('.'))
}

/// The words with a capital at their start.
pub fn capital(words: &str) -> String {
    let mut chars = words.chars();
    match chars.next() {
        Some(first) => first.to_uppercase().chain(chars).collect(),
        None => String::new(),
    }
}

/// `a` or `an`, as the words sound.
pub fn article(words: &str) -> &'static str {
    let first = words.split([' ', '-']).next().unwrap_or("").to_lowercase();
    let sounds_a = ["eu", "uni", "use", "usu", "one", "once", "uk"];
    let sounds_an = ["hour", "honor", "honest", "11", "18", "8"];
    // A letter read aloud by its name: an F, an E-flat, an S.
    let spelled = first.trim_end_matches(|c: char| !c.is_alphabetic());
    if spelled.chars().count() == 1 {
        return match "aefhilmnorsx".contains(spelled) {
            true => "an",
            false => "a",
        };
    }
    if sounds_an.iter().any(|start| first.starts_with(start)) {
        return "an";
    }
    match first.starts_with(['a', 'e', 'i', 'o', 'u'])
        && !sounds_a.iter().any(|start| first.starts_with(start))
    {
        true => "an",
        false => "a",
    }
}

/// The words with their article: `a march`, `an oboe`; what is several already has none.
pub fn with_article(words: &str) -> String {
    match is_several(words) {
        true => words.to_owned(),
        false => format!("{} {words}", article(words)),
    }
}

/// A name inside a sentence: `the Seventh Grade Band`, but `My Band`, `Our Band`, `The Wednesday Band` and what was
/// put together with its article.
pub fn the(name: &str) -> String {
    match name.split(' ').next().unwrap_or("").to_lowercase().as_str() {
        "" | "my" | "our" | "the" => name.to_owned(),
        _ => format!("the {name}"),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn lists_are_joined() {
        assert_eq!(joined::<&str>(&[]), "");
        assert_eq!(joined(&["oboe"]), "oboe");
        assert_eq!(joined(&["oboe", "horn"]), "oboe and horn");
        assert_eq!(joined(&["oboe", "horn", "tuba"]), "oboe, horn and tuba");
        assert_eq!(either(&["oboe", "horn", "tuba"]), "oboe, horn or tuba");
    }

    #[test]
    fn nouns_of_the_trade_have_their_plurals() {
        for (one, many) in [
            ("flute", "flutes"),
            ("alto sax", "alto saxes"),
            ("euphonium T.C.", "euphoniums T.C."),
            ("march", "marches"),
            ("waltz", "waltzes"),
            ("melody", "melodies"),
            ("medley", "medleys"),
            ("chorale", "chorales"),
            ("timpani", "timpani"),
            ("low brass", "low brass"),
            ("crash cymbals", "crash cymbals"),
            ("suspended cymbal", "suspended cymbals"),
            ("bells", "bells"),
            ("chimes", "chimes"),
            ("claves", "claves"),
            ("maracas", "maracas"),
            ("bongos", "bongos"),
            ("congas", "congas"),
            ("bass", "basses"),
            ("string bass", "string basses"),
            ("low reeds", "low reeds"),
            ("copy", "copies"),
            ("person", "people"),
        ] {
            assert_eq!(plural(one), many);
        }
    }

    #[test]
    fn numbers_and_verbs_agree() {
        assert_eq!(counted(1, "alto sax"), "1 alto sax");
        assert_eq!(counted(2, "alto sax"), "2 alto saxes");
        assert_eq!(counted(1, "low reeds"), "1 low reed");
        assert_eq!(counted(1, "low brass"), "1 low brass");
        assert_eq!(counted(1, "copy"), "1 copy");
        assert_eq!(agree(1, "has", "have"), "has");
        assert_eq!(agree(2, "has", "have"), "have");
        assert_eq!(is_are(1, "snare"), "is");
        assert_eq!(is_are(1, "chimes"), "are");
        assert_eq!(is_are(0, "drum"), "are");
    }

    #[test]
    fn articles_go_by_sound() {
        for (words, with) in [
            ("oboe", "an oboe"),
            ("euphonium", "a euphonium"),
            ("Eb horn", "an Eb horn"),
            ("F horn", "an F horn"),
            ("march", "a march"),
            ("18-inch drum", "an 18-inch drum"),
            ("8", "an 8"),
            ("unison line", "a unison line"),
            ("upbeat", "an upbeat"),
            ("hour", "an hour"),
            ("horn", "a horn"),
            ("chimes", "chimes"),
        ] {
            assert_eq!(with_article(words), with);
        }
        assert_eq!(the("Seventh Grade Band"), "the Seventh Grade Band");
        assert_eq!(the("The Wednesday Band"), "The Wednesday Band");
        assert_eq!(the("the Seventh Grade Band"), "the Seventh Grade Band");
        assert_eq!(the("My Band"), "My Band");
        assert_eq!(capital("éclat"), "Éclat");
        assert_eq!(capital(""), "");
    }
}
