//! One walk of one kind of client.

use std::time::{Duration, Instant};

use serde_json::json;

use crate::client::{Client, Setup};
use crate::compare::{by_command, difference, places, seen};
use crate::world::{Dice, World};

/// What kind of client walks.
#[derive(Debug, Clone, Copy)]
pub struct Manner {
    unit: &'static str,
    pulls: bool,
    watches: bool,
}

impl Manner {
    /// All kinds.
    pub fn all() -> Vec<Manner> {
        let mut all = Vec::new();
        for unit in ["utf-8", "utf-16", "utf-32"] {
            for pulls in [false, true] {
                for watches in [false, true] {
                    all.push(Manner { unit, pulls, watches });
                }
            }
        }
        all
    }

    fn start(self, world: &World) -> Client {
        let mut setup = Setup::new(&[&world.folder.path("")]).unit(self.unit).can(json!({
            "textDocument": {
                "inlayHint": {},
                "codeLens": {},
                "semanticTokens": {
                    "requests": {"full": true},
                    "tokenTypes": ["keyword", "string", "number", "variable", "type", "comment", "property", "operator", "class", "function", "parameter", "enumMember"],
                    "tokenModifiers": ["definition", "declaration", "readonly"],
                    "formats": ["relative"],
                },
            },
        }));
        if self.pulls {
            setup = setup.pulls();
        }
        if !self.watches {
            setup = setup.blind();
        }
        setup.start()
    }
}

/// How long our own eyes may take to see a change.
const EYES: Duration = Duration::from_secs(12);

/// Walks so many edits, and compares every so many.
pub fn walk(manner: Manner, seed: u64, edits: u64, every: u64) {
    println!("{manner:?}, seed {seed}");
    let mut dice = Dice(seed);
    let mut world = World::new(manner.unit, manner.watches);
    let mut client = manner.start(&world);
    for name in [
        "band.levare",
        "shelf/0.levare",
        "handbook.levare",
        "concerts/fall.levare",
    ] {
        world.open(&mut client, name);
    }
    let (mut done, mut next) = (0, every);
    let mut memory = Vec::new();
    while done < edits {
        done += world.step(&mut client, &mut dice);
        if done >= next {
            next = done + every;
            compare(
                manner,
                &mut world,
                &mut client,
                &format!("{manner:?}, seed {seed}, after {done} edits"),
            );
            memory.push(client.memory().unwrap_or_default());
        }
    }
    world.save_all(&mut client);
    client.read_all();
    client.settle();
    client.read_all();
    println!("  memory in kB: {memory:?}");
    // What was needed once may be kept, but from then on nothing grows.
    if memory.len() >= 12 {
        let third = memory.len() / 3;
        let early = memory[..third].iter().max().unwrap();
        let late = memory[2 * third..].iter().max().unwrap();
        assert!(*late < early * 5 / 4 + 16_000, "memory grows: {memory:?}");
    }
}

fn compare(manner: Manner, world: &mut World, client: &mut Client, when: &str) {
    world.save_all(client);
    client.settle();
    let mut fresh = manner.start(world);
    for (name, text) in &world.open {
        fresh.open(&world.folder.uri(name), text);
    }
    fresh.settle();
    let theirs = seen(&mut fresh, world, manner.pulls);
    fresh.read_all();
    drop(fresh);
    let start = Instant::now();
    let ours = loop {
        client.settle();
        let ours = seen(client, world, manner.pulls);
        match difference(&ours, &theirs) {
            None => break ours,
            Some(_) if !manner.watches && start.elapsed() < EYES => {
                std::thread::sleep(Duration::from_millis(150))
            }
            Some(difference) => panic!("{when}: {difference}"),
        }
    };
    for (name, text) in &world.open {
        assert_eq!(client.text(&world.folder.uri(name)), *text, "{when}: {name}");
    }
    client.read_all();
    let (desk, command) = (places(world, &ours), by_command(world));
    assert_eq!(desk, command, "{when}: the desk and the command line differ");
}
