//! How long a player needs to get from one instrument to another.

use super::Tenths;

/// The times needed between stations.
///
/// A station is a place at the back of the room with what is played there. The time from one part
/// to the next is the longer of the walk and the change of sticks, and, when the player leaves the
/// station, whatever it takes to lay down what fills both hands there (crash cymbals) and to take
/// up what fills them at the next. Common practice, no source: nobody publishes such figures.
#[derive(Clone, Debug, Default)]
pub struct Changes {
    walks: Vec<Vec<Tenths>>,
    /// The same with other sticks at the end, where that is no matter of the longer of the two.
    otherwise: Vec<Vec<Tenths>>,
    hands: Vec<Tenths>,
    sticks: Tenths,
}

impl Changes {
    /// `walks[from][to]` in tenths of a second; a missing figure is 0. `sticks` is the time to
    /// change them.
    pub fn new(walks: Vec<Vec<Tenths>>, sticks: Tenths) -> Self {
        Changes {
            walks,
            otherwise: Vec::new(),
            hands: Vec::new(),
            sticks: sticks.max(0),
        }
    }

    /// The same where the ways between two stations with a change of sticks take the times of another table.
    pub fn with_other_sticks(mut self, walks: Vec<Vec<Tenths>>) -> Self {
        self.otherwise = walks;
        self
    }

    /// The same with stations at which both hands are full, and the time to lay down or take up.
    pub fn with_hands(mut self, hands: Vec<Tenths>) -> Self {
        self.hands = hands;
        self
    }

    /// The same where a way over a third station is taken when it is shorter than the direct one.
    ///
    /// Then no time is longer than a detour, and checking neighbors in time checks all.
    pub fn shortest(mut self) -> Self {
        let size = self.walks.len();
        for over in 0..size {
            for from in 0..size {
                for to in 0..size {
                    let detour = self.walk(from, over).saturating_add(self.walk(over, to));
                    if let Some(walk) = self.walks.get_mut(from).and_then(|row| row.get_mut(to)) {
                        *walk = detour.min(*walk);
                    }
                }
            }
        }
        self
    }

    fn walk(&self, from: usize, to: usize) -> Tenths {
        let walk = self.walks.get(from).and_then(|row| row.get(to));
        walk.map_or(0, |walk| *walk.max(&0))
    }

    fn hand(&self, station: usize) -> Tenths {
        self.hands.get(station).map_or(0, |time| *time.max(&0))
    }

    /// The time from one station with its sticks to another with its own, in tenths of a second.
    pub fn time(&self, from: (usize, usize), to: (usize, usize)) -> Tenths {
        let other = from.1 != to.1;
        let told = self.otherwise.get(from.0).and_then(|row| row.get(to.0));
        let way = match told.filter(|_| other && from.0 != to.0) {
            Some(way) => *way.max(&0),
            None => self.walk(from.0, to.0).max(if other { self.sticks } else { 0 }),
        };
        match from.0 == to.0 {
            true => way,
            false => way
                .saturating_add(self.hand(from.0))
                .saturating_add(self.hand(to.0)),
        }
    }
}
