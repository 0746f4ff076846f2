//! The exact core of teaching: in which weeks each skill is in hand. It knows no cards.
//!
//! Jobs with an order among them and due weeks, so many at a time, none broken off. Wanted are the fewest late
//! jobs, and of those plans the fewest weeks late in all. Jobs are placed in the order in which they begin, each
//! as early as it can be; some best plan looks so, because an earlier beginning never ends later. A branch ends
//! where even an unlimited number of jobs at a time, or a single chain of work without an order (the rule of
//! Moore and Hodgson, read as a bound), would be no better than the best plan known, and where the same jobs were
//! placed before at no more cost. Steps are counted; no clock decides anything.

use std::collections::HashMap;

/// Something to be done.
#[derive(Debug, Clone, PartialEq, Eq, Default)]
pub struct Job {
    /// For each week in which it may begin, the week by which it is done. It never falls; behind the last it takes
    /// as long as there.
    pub ends: Vec<u32>,
    /// The week before which it is to be done; none where nothing waits for it but other jobs.
    pub due: Option<u32>,
    /// The jobs that come before it.
    pub after: Vec<usize>,
}

impl Job {
    /// By when it is done where it begins in a week.
    pub fn end(&self, start: u32) -> u32 {
        match self.ends.get(start as usize) {
            Some(end) => *end,
            None => {
                let last = u32::try_from(self.ends.len().saturating_sub(1)).unwrap_or(u32::MAX);
                let takes = self.ends.last().map_or(1, |end| end.saturating_sub(last));
                start.saturating_add(takes)
            }
        }
    }

    fn late(&self, end: u32) -> u32 {
        self.due.map_or(0, |due| end.saturating_sub(due))
    }

    /// The least it takes from a week on.
    fn least(&self, from: u32) -> u32 {
        let last = u32::try_from(self.ends.len()).unwrap_or(u32::MAX);
        let all = (from..last.max(from.saturating_add(1))).map(|start| self.end(start).saturating_sub(start));
        all.min().unwrap_or(1)
    }
}

/// What was found.
#[derive(Debug, Clone, PartialEq, Eq)]
pub struct Timetable {
    /// For each job the week in which it begins.
    pub starts: Vec<u32>,
    /// For each job the week by which it is done.
    pub ends: Vec<u32>,
    /// How many are late.
    pub late: u32,
    /// So many weeks late in all.
    pub weeks: u32,
    /// Whether no plan is better.
    pub proven: bool,
}

/// Jobs beyond this number are placed, and nothing is proven.
const MOST: usize = 64;

/// The best plan with so many jobs at a time, in at most so many steps; none where jobs wait for each other in a
/// circle.
pub fn plan(jobs: &[Job], at_once: usize, steps: u64) -> Option<Timetable> {
    let order = in_order(jobs)?;
    let mut search = Search {
        jobs,
        at_once: at_once.max(1),
        dues: urgent(jobs, &order),
        order,
        left: steps,
        cut: jobs.len() > MOST,
        best: None,
        seen: HashMap::new(),
    };
    let mut state = State {
        starts: vec![None; jobs.len()],
        ends: vec![0; jobs.len()],
        now: 0,
        late: 0,
        weeks: 0,
    };
    search.go(&mut state);
    let proven = !search.cut;
    search.best.map(|best| {
        let mut found = Timetable {
            starts: best.starts.iter().map(|start| start.unwrap_or(0)).collect(),
            ends: best.ends,
            late: best.late,
            weeks: best.weeks,
            proven: proven || best.late == 0,
        };
        earlier(jobs, at_once.max(1), &mut found);
        found
    })
}

/// Moves each job to the first weeks in which there is room for it, where those are earlier. Nothing is later for
/// that, so the best plan stays the best.
fn earlier(jobs: &[Job], at_once: usize, found: &mut Timetable) {
    let mut order: Vec<usize> = (0..jobs.len()).collect();
    order.sort_by_key(|at| found.starts.get(*at).copied());
    for at in order {
        let (Some(job), Some(now)) = (jobs.get(at), found.starts.get(at).copied()) else {
            continue;
        };
        let done = |before: &usize| found.ends.get(*before).copied().unwrap_or(0);
        let first = job.after.iter().map(done).max().unwrap_or(0);
        let has_room = |start: &u32| {
            (*start..job.end(*start)).all(|week| {
                let others = found.starts.iter().zip(&found.ends).enumerate();
                let open =
                    others.filter(|(other, (from, until))| *other != at && **from <= week && week < **until);
                open.count() < at_once
            })
        };
        // Weeks far behind the calendar are not worth the looking.
        let start = (first..now.min(first.saturating_add(200))).find(has_room);
        if let Some(start) = start
            && let (Some(from), Some(until)) = (found.starts.get_mut(at), found.ends.get_mut(at))
        {
            *from = start;
            *until = job.end(start);
        }
    }
    let over = jobs.iter().zip(&found.ends).map(|(job, end)| job.late(*end));
    let over: Vec<u32> = over.filter(|late| *late > 0).collect();
    found.late = u32::try_from(over.len()).unwrap_or(u32::MAX);
    found.weeks = over.iter().fold(0, |sum: u32, late| sum.saturating_add(*late));
}

/// The jobs so that each stands behind those it waits for.
fn in_order(jobs: &[Job]) -> Option<Vec<usize>> {
    let mut order: Vec<usize> = Vec::with_capacity(jobs.len());
    let mut placed = vec![false; jobs.len()];
    while order.len() < jobs.len() {
        let ready: Vec<usize> = jobs
            .iter()
            .enumerate()
            .filter(|(at, job)| {
                let is_placed = |at: &usize| placed.get(*at).copied().unwrap_or(true);
                !is_placed(at) && job.after.iter().all(is_placed)
            })
            .map(|(at, _)| at)
            .collect();
        if ready.is_empty() {
            return None;
        }
        for at in ready {
            if let Some(placed) = placed.get_mut(at) {
                *placed = true;
            }
            order.push(at);
        }
    }
    Some(order)
}

/// The week by which each job should be done so that those behind it are in time; what nothing waits for last.
fn urgent(jobs: &[Job], order: &[usize]) -> Vec<u32> {
    let mut dues: Vec<u32> = jobs.iter().map(|job| job.due.unwrap_or(u32::MAX)).collect();
    for at in order.iter().rev() {
        let Some(job) = jobs.get(*at) else { continue };
        let due = dues.get(*at).copied().unwrap_or(u32::MAX);
        if due == u32::MAX {
            continue;
        }
        for before in &job.after {
            if let Some(known) = dues.get_mut(*before) {
                *known = (*known).min(due.saturating_sub(job.least(0)));
            }
        }
    }
    dues
}

#[derive(Clone)]
struct State {
    starts: Vec<Option<u32>>,
    ends: Vec<u32>,
    now: u32,
    late: u32,
    weeks: u32,
}

/// What the rest of a plan rests on: the jobs placed, the week, and those still in hand with their ends.
type Standing = (u64, u32, Vec<(usize, u32)>);

struct Search<'j> {
    jobs: &'j [Job],
    at_once: usize,
    dues: Vec<u32>,
    order: Vec<usize>,
    left: u64,
    cut: bool,
    best: Option<State>,
    seen: HashMap<Standing, (u32, u32)>,
}

impl Search<'_> {
    fn job(&self, at: usize) -> Option<&Job> {
        self.jobs.get(at)
    }

    fn go(&mut self, state: &mut State) {
        match self.left.checked_sub(1) {
            Some(left) => self.left = left,
            // The first way down is always gone, so that there is a plan.
            None if self.best.is_some() => {
                self.cut = true;
                return;
            }
            None => {}
        }
        if state.starts.iter().all(Option::is_some) {
            let cost = (state.late, state.weeks);
            if self
                .best
                .as_ref()
                .is_none_or(|best| cost < (best.late, best.weeks))
            {
                self.best = Some(state.clone());
            }
            return;
        }
        if let Some(best) = &self.best {
            let (late, weeks) = self.bound(state);
            if late > best.late || late == best.late && weeks >= best.weeks {
                return;
            }
        }
        if self.was_here(state) {
            return;
        }
        let mut ready: Vec<(u32, u32, usize)> = Vec::new();
        for (at, job) in self.jobs.iter().enumerate() {
            let open = state.starts.get(at).is_some_and(Option::is_none);
            let placed = |at: &usize| state.starts.get(*at).is_some_and(Option::is_some);
            if open && job.after.iter().all(placed) {
                let due = self.dues.get(at).copied().unwrap_or(u32::MAX);
                ready.push((due, job.due.unwrap_or(u32::MAX), at));
            }
        }
        ready.sort_unstable();
        for (.., at) in ready {
            let Some(job) = self.job(at) else { continue };
            let start = self.earliest(state, job);
            let end = job.end(start);
            let late = job.late(end);
            let before = (state.now, state.late, state.weeks);
            state.now = start;
            state.late += u32::from(late > 0);
            state.weeks = state.weeks.saturating_add(late);
            self.put(state, at, Some(start), end);
            self.go(state);
            self.put(state, at, None, 0);
            (state.now, state.late, state.weeks) = before;
            let perfect = self.best.as_ref().is_some_and(|best| best.late == 0);
            if perfect || self.cut {
                return;
            }
        }
    }

    fn put(&self, state: &mut State, at: usize, start: Option<u32>, end: u32) {
        if let (Some(own), Some(until)) = (state.starts.get_mut(at), state.ends.get_mut(at)) {
            *own = start;
            *until = end;
        }
    }

    /// The first week in which a job can begin: not before the last one that was placed, nor before those it
    /// waits for are done, nor while as many as may be are in hand.
    fn earliest(&self, state: &State, job: &Job) -> u32 {
        let done = |at: &usize| state.ends.get(*at).copied().unwrap_or(0);
        let mut start = job.after.iter().map(done).fold(state.now, u32::max);
        loop {
            let mut open: Vec<u32> = state
                .starts
                .iter()
                .zip(&state.ends)
                .filter(|(from, until)| from.is_some() && **until > start)
                .map(|(_, until)| *until)
                .collect();
            if open.len() < self.at_once {
                return start;
            }
            open.sort_unstable();
            // So many must end before there is room.
            let next = open.get(open.len() - self.at_once).copied();
            start = next.unwrap_or(start).max(start + 1);
        }
    }

    /// Whether the same jobs were placed in another order at no more cost, with the same jobs in hand.
    fn was_here(&mut self, state: &State) -> bool {
        let mut mask = 0u64;
        let mut open = Vec::new();
        for (at, (start, end)) in state.starts.iter().zip(&state.ends).enumerate() {
            if start.is_some() && at < MOST {
                mask |= 1 << at;
                if *end > state.now {
                    open.push((at, *end));
                }
            }
        }
        let cost = (state.late, state.weeks);
        let known = self.seen.entry((mask, state.now, open)).or_insert((u32::MAX, 0));
        // The count of late jobs goes first, so one cost is always above another or the same.
        if *known <= cost {
            return true;
        }
        *known = cost;
        false
    }

    /// No plan from here is better than this.
    fn bound(&self, state: &State) -> (u32, u32) {
        let mut ends = state.ends.clone();
        let (mut late, mut weeks) = (state.late, state.weeks);
        let mut in_time: Vec<(u32, u32)> = Vec::new();
        for at in &self.order {
            let Some(job) = self.job(*at) else { continue };
            if state.starts.get(*at).is_some_and(Option::is_some) {
                continue;
            }
            let done = |at: &usize| ends.get(*at).copied().unwrap_or(0);
            let start = job.after.iter().map(done).fold(state.now, u32::max);
            let end = job.end(start);
            if let Some(own) = ends.get_mut(*at) {
                *own = end;
            }
            match (job.late(end), job.due) {
                (0, Some(due)) => in_time.push((due, job.least(state.now))),
                (0, None) => {}
                (over, _) => {
                    late += 1;
                    weeks = weeks.saturating_add(over);
                }
            }
        }
        // Moore and Hodgson: what cannot be done before its day, all together, is late.
        in_time.sort_unstable();
        let hands = u32::try_from(self.at_once).unwrap_or(u32::MAX);
        let mut taken: Vec<u32> = Vec::new();
        for (due, takes) in in_time {
            taken.push(takes);
            // A job in hand may end after the day; only its weeks before it count.
            let room = hands
                .saturating_mul(due.saturating_sub(state.now))
                .saturating_sub(self.busy_before(state, due));
            if taken.iter().sum::<u32>() > room
                && let Some(longest) = taken.iter().enumerate().max_by_key(|(_, takes)| **takes)
            {
                taken.swap_remove(longest.0);
                late += 1;
                weeks = weeks.saturating_add(1);
            }
        }
        (late, weeks)
    }

    /// The weeks before a day that jobs in hand take.
    fn busy_before(&self, state: &State, due: u32) -> u32 {
        let placed = state
            .starts
            .iter()
            .zip(&state.ends)
            .filter(|(start, _)| start.is_some());
        placed
            .map(|(_, end)| (*end).min(due).saturating_sub(state.now))
            .sum()
    }
}

#[cfg(test)]
mod tests {
    use proptest::prelude::*;

    use super::*;

    fn job(takes: u32, due: Option<u32>, after: &[usize]) -> Job {
        Job {
            ends: vec![takes],
            due,
            after: after.to_vec(),
        }
    }

    /// The best of all plans in which each job begins in one of the first weeks, tried one by one.
    fn every_way(jobs: &[Job], at_once: usize, weeks: u32) -> (u32, u32) {
        fn go(jobs: &[Job], at_once: usize, weeks: u32, starts: &mut Vec<u32>, best: &mut (u32, u32)) {
            if starts.len() == jobs.len() {
                let ends: Vec<u32> = jobs
                    .iter()
                    .zip(&*starts)
                    .map(|(job, start)| job.end(*start))
                    .collect();
                let ordered = jobs
                    .iter()
                    .zip(&*starts)
                    .all(|(job, start)| job.after.iter().all(|at| ends[*at] <= *start));
                let last = ends.iter().copied().max().unwrap_or(0);
                let fits = (0..last).all(|week| {
                    let open = starts
                        .iter()
                        .zip(&ends)
                        .filter(|(start, end)| **start <= week && week < **end);
                    open.count() <= at_once
                });
                if ordered && fits {
                    let late: Vec<u32> = jobs
                        .iter()
                        .zip(&ends)
                        .map(|(job, end)| job.late(*end))
                        .filter(|late| *late > 0)
                        .collect();
                    *best = (*best).min((late.len() as u32, late.iter().sum()));
                }
                return;
            }
            for start in 0..weeks {
                starts.push(start);
                go(jobs, at_once, weeks, starts, best);
                starts.pop();
            }
        }
        let mut best = (u32::MAX, u32::MAX);
        go(jobs, at_once, weeks, &mut Vec::new(), &mut best);
        best
    }

    fn check(jobs: &[Job], at_once: usize, found: &Timetable) {
        for (at, job) in jobs.iter().enumerate() {
            assert_eq!(found.ends[at], job.end(found.starts[at]));
            assert!(
                job.after
                    .iter()
                    .all(|before| found.ends[*before] <= found.starts[at])
            );
        }
        let last = found.ends.iter().copied().max().unwrap_or(0);
        for week in 0..last {
            let open = (0..jobs.len()).filter(|at| found.starts[*at] <= week && week < found.ends[*at]);
            assert!(open.count() <= at_once);
        }
        let late: Vec<u32> = (0..jobs.len())
            .map(|at| jobs[at].late(found.ends[at]))
            .filter(|late| *late > 0)
            .collect();
        assert_eq!(
            (late.len() as u32, late.iter().sum::<u32>()),
            (found.late, found.weeks)
        );
    }

    #[test]
    fn moore_and_hodgson_and_an_order() {
        // One at a time: taking them by their days makes three late; leaving the longest for the end, one.
        let jobs = [
            job(4, Some(4), &[]),
            job(2, Some(5), &[]),
            job(1, Some(6), &[]),
            job(2, Some(6), &[]),
        ];
        let found = plan(&jobs, 1, 10_000).expect("there is no circle");
        assert_eq!((found.late, found.weeks, found.proven), (1, 5, true));
        check(&jobs, 1, &found);
        // What stands before a job comes before it, whatever its own day.
        let jobs = [job(2, None, &[]), job(1, Some(3), &[0]), job(1, Some(1), &[])];
        let found = plan(&jobs, 2, 10_000).expect("there is no circle");
        assert_eq!((found.late, found.starts.as_slice()), (0, [0, 2, 0].as_slice()));
        assert_eq!(plan(&[job(1, None, &[1]), job(1, None, &[0])], 1, 100), None);
        assert_eq!(plan(&[], 1, 100).map(|found| found.late), Some(0));
    }

    #[test]
    fn no_week_is_left_idle_that_could_be_used() {
        // The second waits for the first; the third could wait behind it, and need not.
        let jobs = [job(2, None, &[]), job(1, Some(3), &[0]), job(1, Some(9), &[])];
        let found = plan(&jobs, 2, 10_000).expect("there is no circle");
        assert_eq!(found.starts, [0, 2, 0]);
    }

    #[test]
    fn the_first_way_down_is_gone_without_steps() {
        let jobs: Vec<Job> = (0..30).map(|at| job(1 + at % 3, Some(at), &[])).collect();
        let found = plan(&jobs, 1, 0).expect("a plan");
        assert!(!found.proven);
        check(&jobs, 1, &found);
    }

    proptest! {
        #![proptest_config(ProptestConfig::with_cases(150))]

        #[test]
        fn no_plan_is_better(
            drawn in prop::collection::vec((1u32..3, prop::option::of(0u32..7), prop::collection::vec(any::<prop::sample::Index>(), 0..2), 0u32..2), 1..5),
            at_once in 1usize..3,
        ) {
            let jobs: Vec<Job> = drawn.iter().enumerate().map(|(at, (takes, due, after, more))| {
                let after = after.iter().filter(|_| at > 0).map(|index| index.index(at)).collect();
                // A week without rehearsals in the middle makes what begins before it longer.
                let ends = (0..6).map(|start| start + takes + if start < 3 && start + takes > 3 { *more } else { 0 }).collect();
                Job { ends, due: *due, after }
            }).collect();
            let found = plan(&jobs, at_once, 1_000_000).expect("there is no circle");
            check(&jobs, at_once, &found);
            prop_assert!(found.proven);
            prop_assert_eq!((found.late, found.weeks), every_way(&jobs, at_once, 11));
        }
    }
}
