//! Styles: the words directors use for them, which is a kind of which, and which lie so near each other
//! that one may be meant by the other. Common practice, no source.

/// Styles known by name. Any word that a card uses as a style is one too.
pub const STYLES: &[&str] = &[
    "adagio",
    "air",
    "anthem",
    "ballad",
    "blues",
    "chance music",
    "chorale",
    "concert march",
    "contemporary",
    "dance",
    "dance suite",
    "encore",
    "fanfare",
    "feature",
    "flexible",
    "folk song",
    "folk song setting",
    "folk tune",
    "funk",
    "galop",
    "holiday",
    "hymn",
    "jazz",
    "jig",
    "latin",
    "lullaby",
    "lyrical",
    "march",
    "medley",
    "minuet",
    "new music",
    "novelty",
    "overture",
    "parade march",
    "pastoral",
    "patriotic",
    "percussion feature",
    "polka",
    "pop",
    "prelude",
    "processional",
    "programmatic",
    "rag",
    "reel",
    "rock",
    "round",
    "samba",
    "seasonal",
    "sea song",
    "serenade",
    "solo feature",
    "suite",
    "swing",
    "tango",
    "transcription",
    "waltz",
    "warm-up",
    "winter",
];

/// A kind of something: who asks for the second is content with the first.
const KINDS: &[(&str, &str)] = &[
    ("waltz", "dance"),
    ("tango", "dance"),
    ("polka", "dance"),
    ("minuet", "dance"),
    ("samba", "dance"),
    ("jig", "dance"),
    ("reel", "dance"),
    ("galop", "dance"),
    ("rag", "dance"),
    ("folk song", "folk tune"),
    ("folk tune", "folk song"),
    ("air", "lyrical"),
    ("ballad", "lyrical"),
    ("lullaby", "lyrical"),
    ("chorale", "lyrical"),
    ("hymn", "lyrical"),
    ("adagio", "lyrical"),
    ("chorale", "hymn"),
    ("hymn", "chorale"),
    ("swing", "jazz"),
    ("blues", "jazz"),
    ("holiday", "seasonal"),
];

/// Styles of which one word may be used for the other, so that neither proves the other absent.
const NEAR: &[&[&str]] = &[
    &[
        "march",
        "galop",
        "processional",
        "fanfare",
        "two-step",
        "quickstep",
        "patriotic",
        "circus",
    ],
    &[
        "lyrical",
        "pastoral",
        "serenade",
        "song",
        "prelude",
        "folk",
        "nocturne",
        "elegy",
        "slow",
        "programmatic",
    ],
    &["holiday", "winter", "seasonal", "carol", "christmas"],
    &["jazz", "rock", "pop", "funk", "latin", "rag"],
    &["dance", "folk", "suite", "round", "latin"],
    &["overture", "programmatic", "suite", "fantasy", "fanfare"],
    &[
        "novelty",
        "programmatic",
        "percussion",
        "feature",
        "pop",
        "encore",
    ],
];

/// The style of one piece from the style of several: `marches`, `waltzes`, `lyrical`.
pub fn singular(word: &str) -> String {
    let word = word.to_lowercase();
    for ending in ["ches", "shes", "zes", "sses", "xes"] {
        if word.ends_with(ending) && word != "waltze" {
            return word.strip_suffix("es").unwrap_or(&word).to_owned();
        }
    }
    if let Some(stem) = word.strip_suffix("ies").filter(|stem| stem.len() > 2) {
        return format!("{stem}y");
    }
    let stays = ["blues", "ss"].iter().any(|ending| word.ends_with(ending));
    match word.strip_suffix('s') {
        Some(stem) if !stays && stem.len() > 2 => stem.to_owned(),
        _ => word,
    }
}

/// Several of a style: `marches`, `waltzes`, `lyrical`.
pub fn plural(style: &str) -> String {
    let describes = [
        "al",
        "ic",
        "ble",
        "new music",
        "blues",
        "jazz",
        "swing",
        "rock",
        "pop",
        "funk",
        "latin",
        "holiday",
    ];
    if describes.iter().any(|ending| style.ends_with(ending)) && style != "chorale" {
        return style.to_owned();
    }
    crate::text::sentences::plural(style)
}

/// A style with its article, where it takes one: `a march`, `lyrical`.
pub fn with_article(style: &str) -> String {
    match plural(style) == style {
        true => style.to_owned(),
        false if style.starts_with(['a', 'e', 'i', 'o', 'u']) => format!("an {style}"),
        false => format!("a {style}"),
    }
}

/// How one style answers the wish for another.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Fit {
    /// It is of that style.
    Is,
    /// It may well be meant.
    Perhaps,
    /// It is something else.
    Other,
}

/// How the style `said` on a card answers the wish for `wanted`; both in small letters.
pub fn fit(said: &str, wanted: &str) -> Fit {
    let holds = |all: &str, part: &str| {
        let words: Vec<&str> = all.split([' ', '-', '/']).collect();
        let wanted: Vec<&str> = part.split([' ', '-', '/']).collect();
        !wanted.is_empty()
            && words
                .windows(wanted.len())
                .any(|window| window == wanted.as_slice())
    };
    if holds(said, wanted) || singular(said) == wanted {
        return Fit::Is;
    }
    if KINDS.iter().any(|(kind, of)| holds(said, kind) && *of == wanted) {
        return Fit::Is;
    }
    let near = NEAR.iter().any(|group| {
        group.iter().any(|word| holds(said, word)) && group.iter().any(|word| holds(wanted, word))
    });
    let known = STYLES
        .iter()
        .any(|style| holds(wanted, style) || holds(style, wanted));
    match near || !known {
        true => Fit::Perhaps,
        false => Fit::Other,
    }
}
