//! A stretch of a text that several hold together.

use std::fmt;
use std::ops::{Deref, Range};
use std::sync::Arc;

/// A stretch of a text. Taking a part of one, or holding it twice, copies nothing; the whole text stays as
/// long as any part of it is held.
#[derive(Clone)]
pub struct Shared {
    whole: Arc<str>,
    start: u32,
    end: u32,
}

impl Shared {
    /// A part of the stretch, in bytes from its start. What does not lie in it, or begins or ends inside a
    /// character, is an empty one.
    pub fn part(&self, range: Range<usize>) -> Shared {
        let (start, end) = match self.get(range.clone()) {
            Some(_) => (
                self.start.saturating_add(range.start as u32),
                self.start.saturating_add(range.end as u32),
            ),
            None => (self.end, self.end),
        };
        Shared {
            whole: Arc::clone(&self.whole),
            start,
            end,
        }
    }

    /// Whether both are one stretch of one text, not only alike.
    pub fn is(&self, other: &Shared) -> bool {
        Arc::ptr_eq(&self.whole, &other.whole) && self.start == other.start && self.end == other.end
    }

    /// The stretch as a text of its own, so that it keeps no longer one.
    pub fn apart(&self) -> Shared {
        Shared::from(&**self)
    }
}

impl Deref for Shared {
    type Target = str;

    fn deref(&self) -> &str {
        self.whole
            .get(self.start as usize..self.end as usize)
            .unwrap_or("")
    }
}

impl From<Arc<str>> for Shared {
    fn from(whole: Arc<str>) -> Shared {
        Shared {
            start: 0,
            end: u32::try_from(whole.len()).unwrap_or(u32::MAX),
            whole,
        }
    }
}

impl From<&str> for Shared {
    fn from(text: &str) -> Shared {
        Shared::from(Arc::<str>::from(text))
    }
}

impl From<String> for Shared {
    fn from(text: String) -> Shared {
        Shared::from(Arc::<str>::from(text))
    }
}

impl PartialEq for Shared {
    fn eq(&self, other: &Shared) -> bool {
        self.is(other) || **self == **other
    }
}

impl Eq for Shared {}

impl PartialEq<str> for Shared {
    fn eq(&self, other: &str) -> bool {
        **self == *other
    }
}

impl fmt::Display for Shared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(self)
    }
}

impl fmt::Debug for Shared {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        fmt::Debug::fmt(&**self, f)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_part_is_held_without_a_copy() {
        let whole = Shared::from("piece B♭");
        let part = whole.part(6..10);
        assert_eq!(&*part, "B♭");
        assert_eq!(part.as_ptr(), whole[6..].as_ptr());
        assert!(part.is(&whole.part(6..10)) && !part.is(&whole.part(6..7)));
        assert_eq!(&*part.part(0..1), "B");
        assert_eq!(&*part.part(1..2), "", "inside a character");
        assert_eq!(&*part.part(0..9), "", "past the end");
        let apart = part.apart();
        assert!(apart == part && !apart.is(&part));
    }
}
