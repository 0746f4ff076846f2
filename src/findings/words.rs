//! Words that several rules need.

/// A band's name inside a sentence: `the Seventh Grade Band`, but `My Band` and `Our Band`.
pub(crate) fn band(name: &str) -> String {
    let first = name.split(' ').next().unwrap_or("");
    match first {
        "My" | "Our" | "The" => name.to_owned(),
        _ => format!("the {name}"),
    }
}

/// `clarinet`, `clarinet and trumpet`, `clarinet, tenor sax and trumpet`.
pub(crate) fn joined(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
