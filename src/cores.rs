//! Work spread over the cores of the computer, for those who call the rooms that only compute.

use std::panic::resume_unwind;
use std::sync::Arc;
use std::sync::atomic::{AtomicUsize, Ordering};
use std::thread::{self, available_parallelism};

use crate::catalogue::{CardFile, Entry, Snapshot};
use crate::text::Shared;

/// The stack of a thread: as much as the first thread of a program has.
const STACK: usize = 8 << 20;
/// How often a thread comes back for more: often enough that none waits long for the others at the end.
const TURNS: usize = 32;

/// What `work` makes of each item, in the order of the items. `told` hears, in the thread that calls, how many
/// are done so far; where it says no, no more is begun, and nothing comes back.
pub fn spread<T, R>(
    items: &[T],
    work: impl Fn(&T) -> R + Sync,
    told: &mut dyn FnMut(usize) -> bool,
) -> Option<Vec<R>>
where
    T: Sync,
    R: Send,
{
    let threads = available_parallelism().map_or(1, usize::from).min(items.len());
    let size = (items.len() / (threads.max(1) * TURNS)).clamp(1, 64);
    let next = AtomicUsize::new(0);
    let done = AtomicUsize::new(0);
    let turn = || {
        let number = next.fetch_add(1, Ordering::Relaxed);
        let start = number.saturating_mul(size);
        let chunk = items.get(start..items.len().min(start.saturating_add(size)))?;
        (!chunk.is_empty()).then_some((number, chunk))
    };
    let stop = || next.store(usize::MAX / 2, Ordering::Relaxed);
    let mut made: Vec<(usize, Vec<R>)> = thread::scope(|scope| {
        let others: Vec<_> = (1..threads)
            .filter_map(|_| {
                let at_work = || {
                    let mut made = Vec::new();
                    while let Some((number, chunk)) = turn() {
                        made.push((number, chunk.iter().map(&work).collect::<Vec<R>>()));
                        done.fetch_add(chunk.len(), Ordering::Relaxed);
                    }
                    made
                };
                // Where the computer gives no more threads, those there are do the work.
                thread::Builder::new()
                    .stack_size(STACK)
                    .spawn_scoped(scope, at_work)
                    .ok()
            })
            .collect();
        let mut made = Vec::new();
        let mut go_on = true;
        while go_on && let Some((number, chunk)) = turn() {
            made.push((number, chunk.iter().map(&work).collect()));
            let so_far = done.fetch_add(chunk.len(), Ordering::Relaxed);
            go_on = told(so_far.saturating_add(chunk.len()));
        }
        if !go_on {
            stop();
        }
        for other in others {
            match other.join() {
                Ok(more) => made.extend(more),
                // A panic there is a panic here.
                Err(panic) => resume_unwind(panic),
            }
        }
        go_on.then_some(made)
    })?;
    made.sort_unstable_by_key(|(number, _)| *number);
    Some(made.into_iter().flat_map(|(_, made)| made).collect())
}

/// The same where nobody has to be told and nothing stops it.
pub fn spread_all<T: Sync, R: Send>(items: &[T], work: impl Fn(&T) -> R + Sync) -> Vec<R> {
    spread(items, work, &mut |_| true).unwrap_or_default()
}

/// Takes the facts out of all cards of a catalogue, for whoever is about to ask most of them.
pub fn take_facts(snapshot: &Snapshot) {
    let entries = snapshot.entries().map(|(_, entry)| entry);
    let unasked: Vec<&Arc<Entry>> = entries.filter(|entry| entry.known_facts().is_none()).collect();
    spread_all(&unasked, |entry| {
        entry.facts();
    });
}

/// Reads the cards of files, each with its path and its text; the files hold on to the texts. `told` hears how
/// many cards of how many are read, as in [`spread`].
pub fn read_files(
    files: &[(&str, &Arc<str>)],
    told: &mut dyn FnMut(usize, usize) -> bool,
) -> Option<Vec<Arc<CardFile>>> {
    let mut cards: Vec<Shared> = Vec::new();
    let mut counts = Vec::with_capacity(files.len());
    for (_, text) in files {
        let cut = CardFile::cards(&Shared::from(Arc::clone(text)));
        counts.push(cut.len());
        cards.extend(cut);
    }
    let all = cards.len();
    let read = spread(&cards, |card| Arc::new(Entry::read(card.clone())), &mut |done| {
        told(done, all)
    })?;
    let mut read = read.into_iter();
    let put_together = |((path, _), count): (&(&str, &Arc<str>), usize)| {
        Arc::new(CardFile::of(path, read.by_ref().take(count).collect()))
    };
    Some(files.iter().zip(counts).map(put_together).collect())
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_order_is_that_of_the_items() {
        for count in [0, 1, 2, 7, 64, 1000, 5003] {
            let items: Vec<usize> = (0..count).collect();
            let mut last = 0;
            let made = spread(&items, |item| item * 3, &mut |done| {
                assert!(done >= last && done <= count);
                last = done;
                true
            });
            let wanted: Vec<usize> = items.iter().map(|item| item * 3).collect();
            assert_eq!(made, Some(wanted));
        }
    }

    #[test]
    fn it_stops_when_told_to() {
        let items: Vec<usize> = (0..100_000).collect();
        let worked = AtomicUsize::new(0);
        let first = thread::current().id();
        let work = |_: &usize| {
            worked.fetch_add(1, Ordering::Relaxed);
            // The others are slow, so that they cannot be done before this thread is told.
            if thread::current().id() != first {
                thread::sleep(std::time::Duration::from_millis(1));
            }
        };
        let made = spread(&items, work, &mut |_| false);
        assert_eq!(made, None);
        assert!(worked.load(Ordering::Relaxed) < items.len());
    }

    #[test]
    fn a_panic_comes_through() {
        let items: Vec<usize> = (0..1000).collect();
        let stopped = std::panic::catch_unwind(|| {
            spread_all(&items, |item| assert!(*item != 777, "in a thread"));
        });
        assert!(stopped.is_err());
    }
}
