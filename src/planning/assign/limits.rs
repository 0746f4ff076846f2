//! How long a search may go on.

use std::cell::Cell;

/// How often the searches of one program may ask whether to stop, which they do every few hundred steps. Far more than
/// any concert of a school band needs, or all of a year.
const MOST_ASKED: u64 = 30_000;

/// The most a search may do before it hands back the best it has.
///
/// Steps are counted, so that the same question always gives the same answer; `stop` is asked now
/// and then for a caller who can wait no longer (it brings its own clock).
#[derive(Clone, Copy)]
pub struct Limits<'a> {
    /// Steps of a search: one for every place tried for a part.
    pub steps: u64,
    /// Whether to stop at once.
    pub stop: &'a dyn Fn() -> bool,
}

impl Limits<'_> {
    /// What an answer may take while somebody types: a few milliseconds, and far more than a piece for a
    /// school band needs.
    pub const WHILE_SOMEBODY_TYPES: Limits<'static> = Limits {
        steps: 40_000,
        stop: &|| false,
    };

    /// Far more than any piece for a school band needs.
    pub const USUAL: Limits<'static> = Limits {
        steps: 2_000_000,
        stop: &|| false,
    };

    /// Does work of many searches within one limit for all of them; and says whether that was enough.
    pub fn for_all<T>(self, work: impl FnOnce(Limits<'_>) -> T) -> (T, bool) {
        let asked = Cell::new(0u64);
        let stop = || {
            asked.set(asked.get().saturating_add(1));
            asked.get() > MOST_ASKED || (self.stop)()
        };
        let done = work(Limits { stop: &stop, ..self });
        (done, asked.get() <= MOST_ASKED)
    }
}

/// Counts the steps of one question.
pub(super) struct Count<'a> {
    limits: Limits<'a>,
    /// Steps taken so far.
    pub(super) steps: u64,
    /// Whether a limit cut the search short.
    pub(super) cut: bool,
}

impl<'a> Count<'a> {
    pub(super) fn new(limits: Limits<'a>) -> Self {
        Count {
            limits,
            steps: 0,
            cut: false,
        }
    }

    /// Takes a step; false when there is none left, from then on for good.
    pub(super) fn step(&mut self) -> bool {
        self.spend(1)
    }

    /// A step in a search over so many units: it takes longer the more there are.
    pub(super) fn step_among(&mut self, units: usize) -> bool {
        let words = (units / 64) as u64;
        self.spend(1 + words * words * words)
    }

    /// Takes several steps at once.
    pub(super) fn spend(&mut self, steps: u64) -> bool {
        if self.cut || self.steps >= self.limits.steps {
            self.cut = true;
            return false;
        }
        let asked = self.steps / 256;
        self.steps = self.steps.saturating_add(steps);
        if self.steps / 256 > asked && (self.limits.stop)() {
            self.cut = true;
        }
        !self.cut
    }
}
