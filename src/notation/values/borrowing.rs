//! Whose a borrowed instrument is, said before its name, and until when it is there, where that is no day.

use super::cursor::Cursor;
use super::partner;

/// `timpani until the spring concert`, `xylophone until end of Lent term`: an end that is no day.
pub(super) fn take_event(text: &str) -> (&str, Option<String>) {
    let found = [" until ", " till ", " til ", " 'til ", " thru ", " through "]
        .iter()
        .find_map(|joint| {
            let (head, tail) = text.rsplit_once(joint)?;
            Some((head.trim_end_matches([' ', ',']), Some(event(tail)?)))
        });
    found.unwrap_or((text, None))
}

/// An event of the school year that has no day here, in the one form.
fn event(text: &str) -> Option<String> {
    const TIMES: [(&str, &str); 12] = [
        ("spr", "spring"),
        ("spring", "spring"),
        ("fall", "fall"),
        ("autumn", "autumn"),
        ("winter", "winter"),
        ("holiday", "holiday"),
        ("christmas", "Christmas"),
        ("xmas", "Christmas"),
        ("easter", "Easter"),
        ("summer", "summer"),
        ("lent", "Lent"),
        ("school", "school"),
    ];
    const EVENTS: [&str; 14] = [
        "concert",
        "festival",
        "contest",
        "assembly",
        "musical",
        "show",
        "play",
        "parade",
        "break",
        "term",
        "half-term",
        "semester",
        "year",
        "vacation",
    ];
    let mut words = Cursor::new(text);
    let mut said: Vec<&str> = Vec::new();
    let end = words.any(&["the end of", "end of"]);
    if end {
        said.push("the end of");
    }
    words.any(&["the", "our"]);
    let time = words.one_of(&TIMES);
    let known = EVENTS.map(|event| (event, event));
    let event = words.one_of(&known);
    // `until Christmas` is a day, and `until year` says nothing.
    (event.is_some() && (time.is_some() || end || event == Some("festival")) && words.done()).then(|| {
        said.extend(time);
        said.extend(event);
        match end {
            true => said.join(" "),
            false => format!("the {}", said.join(" ")),
        }
    })
}

/// `hs timpani`: whose they are stands before the name.
pub(super) fn take_owner(text: &str) -> (&str, Option<String>) {
    const OWNERS: [(&str, &str); 6] = [
        ("the hs ", "the hs"),
        ("hs ", "the hs"),
        ("high school's ", "the high school"),
        ("the high school's ", "the high school"),
        ("church's ", "the church"),
        ("the church's ", "the church"),
    ];
    let found = OWNERS.iter().find_map(|(lead, who)| {
        let head = text.get(..lead.len())?;
        let rest = text.get(lead.len()..)?;
        head.eq_ignore_ascii_case(lead)
            .then(|| (rest, partner::read(who)))
    });
    found.filter(|(_, who)| who.is_some()).unwrap_or((text, None))
}

#[cfg(test)]
mod tests {
    use super::event;

    #[test]
    fn ends_that_are_no_days_are_kept() {
        for (written, one_form) in [
            ("spr concert", Some("the spring concert")),
            ("the end of Lent term", Some("the end of Lent term")),
            ("end of school year", Some("the end of school year")),
            ("our festival", Some("the festival")),
            ("xmas", None),
            ("concert", None),
            ("spring", None),
            ("the zqxv concert", None),
            ("the spring concert zqxv", None),
        ] {
            let read = event(written);
            assert_eq!(read.as_deref(), one_form, "{written}");
            assert_eq!(read.as_deref().and_then(event), read, "{written} again");
        }
    }
}
