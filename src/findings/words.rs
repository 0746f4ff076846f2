//! Words that several rules need.

/// `clarinet`, `clarinet and trumpet`, `clarinet, tenor sax and trumpet`.
pub(crate) fn joined(names: &[String]) -> String {
    match names {
        [] => String::new(),
        [one] => one.clone(),
        [rest @ .., last] => format!("{} and {last}", rest.join(", ")),
    }
}
