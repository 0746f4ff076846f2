//! A stretch of text, as byte offsets.

/// A half-open stretch of bytes: `start` is in it, `end` is not. `end` is never before `start` when made by [`Span::new`].
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Span {
    /// The first byte.
    pub start: u32,
    /// The byte after the last one.
    pub end: u32,
}

impl Span {
    /// The span that starts at an offset and is `length` bytes long.
    pub const fn long(start: u32, length: u32) -> Self {
        Self {
            start,
            end: start.saturating_add(length),
        }
    }

    /// The stretch from `start` to `end`; empty at `start` if `end` comes before it.
    pub const fn new(start: u32, end: u32) -> Self {
        let end = if end < start { start } else { end };
        Span { start, end }
    }

    /// The empty stretch at `offset`.
    pub const fn at(offset: u32) -> Self {
        Span {
            start: offset,
            end: offset,
        }
    }

    /// The whole of `text` (as much of it as 32-bit offsets reach).
    pub fn whole(text: &str) -> Self {
        Span::new(0, u32::try_from(text.len()).unwrap_or(u32::MAX))
    }

    /// Length in bytes.
    pub const fn len(self) -> u32 {
        self.end.saturating_sub(self.start)
    }

    /// Whether no byte is in it.
    pub const fn is_empty(self) -> bool {
        self.end <= self.start
    }

    /// Whether the byte at `offset` is in it. An empty stretch contains nothing.
    pub const fn contains(self, offset: u32) -> bool {
        self.start <= offset && offset < self.end
    }

    /// Whether a cursor at `offset` stands in it or at one of its edges.
    pub const fn touches(self, offset: u32) -> bool {
        self.start <= offset && offset <= self.end
    }

    /// Whether a byte is in both.
    pub const fn overlaps(self, other: Span) -> bool {
        self.start < other.end && other.start < self.end && !self.is_empty() && !other.is_empty()
    }

    /// Whether the whole of `other` lies within it, edges included.
    pub const fn encloses(self, other: Span) -> bool {
        self.start <= other.start && other.end <= self.end
    }

    /// The same stretch moved by `by` bytes, stopped at 0 and at `u32::MAX`.
    pub fn shift(self, by: i64) -> Self {
        Span::new(moved(self.start, by), moved(self.end, by))
    }

    /// The smallest stretch that holds both.
    pub fn cover(self, other: Span) -> Self {
        Span::new(self.start.min(other.start), self.end.max(other.end))
    }

    /// The text of the stretch. Edges past the end or inside a character are moved back to the nearest
    /// character boundary, so this never fails.
    pub fn slice(self, text: &str) -> &str {
        text.get(self.range(text)).unwrap_or("")
    }

    /// The stretch as indices that are safe to slice `text` with.
    pub fn range(self, text: &str) -> std::ops::Range<usize> {
        let start = floor(text, self.start as usize);
        let end = floor(text, self.end as usize);
        start..end.max(start)
    }
}

/// The last character boundary of `text` at or before `offset`.
pub fn floor(text: &str, offset: usize) -> usize {
    let mut at = offset.min(text.len());
    while !text.is_char_boundary(at) {
        at -= 1;
    }
    at
}

fn moved(offset: u32, by: i64) -> u32 {
    let sum = i64::from(offset).saturating_add(by);
    u32::try_from(sum.max(0)).unwrap_or(u32::MAX)
}

#[cfg(test)]
mod tests {
    use super::*;
    use proptest::prelude::*;

    #[test]
    fn edges() {
        let span = Span::new(2, 5);
        let table = [
            // offset, contains, touches
            (1, false, false),
            (2, true, true),
            (4, true, true),
            (5, false, true),
            (6, false, false),
        ];
        for (offset, contains, touches) in table {
            assert_eq!(span.contains(offset), contains, "contains {offset}");
            assert_eq!(span.touches(offset), touches, "touches {offset}");
        }
        assert_eq!(Span::new(5, 2), Span::at(5));
        assert!(Span::at(3).touches(3) && !Span::at(3).contains(3));
        assert!(!span.overlaps(Span::new(5, 8)) && span.overlaps(Span::new(4, 8)));
        assert!(!span.overlaps(Span::at(3)));
        assert_eq!(span.cover(Span::new(8, 9)), Span::new(2, 9));
    }

    #[test]
    fn shifting_stops_at_the_ends() {
        assert_eq!(Span::new(2, 5).shift(-3), Span::new(0, 2));
        assert_eq!(Span::new(2, 5).shift(i64::MIN), Span::at(0));
        assert_eq!(Span::new(2, 5).shift(i64::MAX), Span::at(u32::MAX));
        assert_eq!(Span::new(2, 5).shift(10), Span::new(12, 15));
    }

    #[test]
    fn slicing_keeps_characters_whole() {
        // "B♭ x": the flat sign is bytes 1 to 3.
        let text = "B♭ x";
        assert_eq!(Span::new(1, 4).slice(text), "♭");
        assert_eq!(Span::new(2, 4).slice(text), "♭");
        assert_eq!(Span::new(0, 3).slice(text), "B");
        assert_eq!(Span::new(4, 99).slice(text), " x");
        assert_eq!(Span { start: 5, end: 1 }.slice(text), "");
    }

    proptest! {
        #[test]
        fn slicing_never_fails(text in ".{0,12}", start: u32, end in 0u32..40) {
            let _ = Span { start, end }.slice(&text);
            let _ = Span { start: start % 40, end }.slice(&text);
        }
    }
}
