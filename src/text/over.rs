//! Many stretches of one text, ready to be asked which of them a place touches.

use super::Span;

/// Stretches by where they start, with their numbers.
#[derive(Debug, Default, Clone)]
pub struct Over {
    spans: Vec<(Span, usize)>,
    /// For each stretch the farthest end among it and those before it.
    reach: Vec<u32>,
}

impl Over {
    /// Takes stretches, numbered from 0.
    pub fn of(spans: impl IntoIterator<Item = Span>) -> Over {
        let mut spans: Vec<(Span, usize)> = spans.into_iter().zip(0..).collect();
        spans.sort_unstable();
        let mut farthest = 0;
        let ends = spans.iter().map(|(span, _)| {
            farthest = farthest.max(span.end);
            farthest
        });
        let reach = ends.collect();
        Over { spans, reach }
    }

    /// The stretches that a place lies in, touches or overlaps, the last to start first. Where they lie side by side
    /// this looks at no others.
    pub fn touching(&self, place: Span) -> impl Iterator<Item = (Span, usize)> + '_ {
        let from = self.spans.partition_point(|(span, _)| span.start <= place.end);
        let before = self.spans.iter().zip(&self.reach).take(from).rev();
        before
            .take_while(move |(_, reach)| **reach >= place.start)
            .map(|(span, _)| *span)
            .filter(move |(span, _)| span.end >= place.start)
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn what_touches_is_what_a_look_at_all_finds() {
        let spans = [(0, 4), (4, 9), (2, 3), (20, 30), (12, 12), (0, 30), (9, 12)];
        let spans = spans.map(|(start, end)| Span::new(start, end));
        let over = Over::of(spans);
        for start in 0..32 {
            for end in start..32 {
                let place = Span::new(start, end);
                let mut found: Vec<usize> = over.touching(place).map(|(_, at)| at).collect();
                found.sort_unstable();
                let all = spans.iter().zip(0..);
                let all = all.filter(|(span, _)| span.start <= end && start <= span.end);
                assert_eq!(found, all.map(|(_, at)| at).collect::<Vec<_>>(), "{place:?}");
            }
        }
    }
}
