//! Sets in order of size.

/// All sets of a size of the numbers below another, in their order.
pub(super) struct Sets {
    below: usize,
    now: Option<Vec<usize>>,
}

impl Sets {
    pub(super) fn new(below: usize, size: usize) -> Self {
        let now = (size <= below).then(|| (0..size).collect());
        Sets { below, now }
    }
}

impl Iterator for Sets {
    type Item = Vec<usize>;

    fn next(&mut self) -> Option<Vec<usize>> {
        let now = self.now.clone()?;
        let size = now.len();
        let turned = (0..size).rev().find(|&at| now[at] + size - at < self.below);
        self.now = turned.map(|turn| {
            let mut next = now.clone();
            let start = next[turn] + 1;
            (turn..size).for_each(|at| next[at] = start + at - turn);
            next
        });
        Some(now)
    }
}
