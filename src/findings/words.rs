//! Words that several rules need.

use crate::planning::winds::words::plural;

/// A band's name inside a sentence: `the Seventh Grade Band`, but `My Band` and `Our Band`.
pub(crate) fn band(name: &str) -> String {
    let first = name.split(' ').next().unwrap_or("");
    match first {
        "My" | "Our" | "The" => name.to_owned(),
        _ => format!("the {name}"),
    }
}

/// Instruments as the players of them: `alto saxes and baritone saxes`.
pub(crate) fn players(names: &[String]) -> String {
    let names: Vec<String> = names.iter().map(|name| plural(name)).collect();
    joined(&names)
}

/// `clarinet`, `clarinet and trumpet`, `clarinet, tenor sax and trumpet`.
pub(crate) fn joined(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
