//! The units in which a column is counted.

/// The unit of a column: bytes, UTF-16 code units or characters (Language Server Protocol 3.17,
/// `PositionEncodingKind`: `utf-8`, `utf-16`, `utf-32`).
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Hash)]
pub enum Encoding {
    /// Bytes of UTF-8.
    Utf8,
    /// Code units of UTF-16, what an editor means when nothing else was agreed.
    #[default]
    Utf16,
    /// Unicode characters.
    Utf32,
}

impl Encoding {
    /// How many units the character takes.
    pub const fn units(self, character: char) -> u32 {
        match self {
            Encoding::Utf8 => character.len_utf8() as u32,
            Encoding::Utf16 => character.len_utf16() as u32,
            Encoding::Utf32 => 1,
        }
    }

    /// How many units the text takes.
    pub fn length(self, text: &str) -> u32 {
        let units = match self {
            Encoding::Utf8 => text.len(),
            _ if text.is_ascii() => text.len(),
            Encoding::Utf16 => text.chars().map(char::len_utf16).sum(),
            Encoding::Utf32 => text.chars().count(),
        };
        u32::try_from(units).unwrap_or(u32::MAX)
    }

    /// The byte place in `text` after `column` units; inside a character its start, past the end the end.
    pub fn bytes(self, text: &str, column: u32) -> usize {
        let column = column as usize;
        if self == Encoding::Utf8 || text.is_ascii() {
            return super::floor(text, column);
        }
        let mut units = 0usize;
        for (at, character) in text.char_indices() {
            units += self.units(character) as usize;
            if units > column {
                return at;
            }
        }
        text.len()
    }
}

/// A place as editors speak of it: both numbers count from 0.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub struct Position {
    /// The line, counted from 0.
    pub line: u32,
    /// Units from the start of the line, in an [`Encoding`] both sides agreed on.
    pub column: u32,
}

impl Position {
    /// The place `column` units into `line`, both from 0.
    pub const fn new(line: u32, column: u32) -> Self {
        Position { line, column }
    }
}
