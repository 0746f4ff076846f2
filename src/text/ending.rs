//! The mark that ends a line.

/// How the lines of a file end.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Ending {
    /// `\n`.
    #[default]
    Lf,
    /// `\r\n`.
    CrLf,
    /// `\r` alone.
    Cr,
}

impl Ending {
    /// The ending most lines of `text` have; between equals the one met first; `\n` in a text of one line.
    pub fn of(text: &str) -> Self {
        let mut counts: Vec<(Ending, usize)> = Vec::new();
        for (_, ending) in breaks(text) {
            match counts.iter_mut().find(|(seen, _)| *seen == ending) {
                Some((_, count)) => *count += 1,
                None => counts.push((ending, 1)),
            }
        }
        let most = counts.iter().map(|(_, count)| *count).max();
        counts
            .iter()
            .find(|(_, count)| Some(*count) == most)
            .map_or(Ending::Lf, |(ending, _)| *ending)
    }

    /// The characters of the ending.
    pub const fn as_str(self) -> &'static str {
        match self {
            Ending::Lf => "\n",
            Ending::CrLf => "\r\n",
            Ending::Cr => "\r",
        }
    }

    /// `text` with every line ended this way.
    pub fn rewrite(self, text: &str) -> String {
        let mut out = String::with_capacity(text.len());
        let mut from = 0;
        for (at, ending) in breaks(text) {
            out.push_str(text.get(from..at).unwrap_or(""));
            out.push_str(self.as_str());
            from = at + ending.as_str().len();
        }
        out.push_str(text.get(from..).unwrap_or(""));
        out
    }
}

/// The line breaks of `text` in order: where each starts, and which it is.
pub(super) fn breaks(text: &str) -> impl Iterator<Item = (usize, Ending)> + '_ {
    let bytes = text.as_bytes();
    let mut at = 0;
    std::iter::from_fn(move || {
        let rest = bytes.get(at..)?;
        let found = at + rest.iter().position(|byte| matches!(byte, b'\n' | b'\r'))?;
        let ending = match (bytes.get(found), bytes.get(found + 1)) {
            (Some(b'\n'), _) => Ending::Lf,
            (_, Some(b'\n')) => Ending::CrLf,
            _ => Ending::Cr,
        };
        at = found + ending.as_str().len();
        Some((found, ending))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_ending_most_lines_have() {
        let table = [
            ("", Ending::Lf),
            ("one line", Ending::Lf),
            ("a\nb\n", Ending::Lf),
            ("a\r\nb\r\nc\n", Ending::CrLf),
            ("a\rb\rc\n", Ending::Cr),
            ("a\r\nb\n", Ending::CrLf),
            ("a\nb\r\n", Ending::Lf),
            ("\n\r", Ending::Lf),
            ("\r\r\n", Ending::Cr),
        ];
        for (text, ending) in table {
            assert_eq!(Ending::of(text), ending, "{text:?}");
        }
    }

    #[test]
    fn rewriting() {
        let mixed = "a\r\nb\nc\r\r\nd";
        assert_eq!(Ending::Lf.rewrite(mixed), "a\nb\nc\n\nd");
        assert_eq!(Ending::CrLf.rewrite(mixed), "a\r\nb\r\nc\r\n\r\nd");
        assert_eq!(Ending::Cr.rewrite(mixed), "a\rb\rc\r\rd");
    }
}
