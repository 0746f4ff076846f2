//! Invented names: pieces, people, publishers, places.

use crate::chance::Chance;

const THINGS: &[&str] = &[
    "Lantern", "Ferry", "Quarry", "Kettle", "Orchard", "Signal", "Thistle", "Anvil", "Pillow", "Harbor",
    "Compass", "Willow", "Candle", "Tollgate", "Marble", "Sparrow", "Attic", "Ladder", "Copper", "Meadow",
    "Button", "Gravel", "Weather", "Barrel", "Saddle", "Cricket", "Pewter", "Hollow", "Turnip", "Whistle",
    "Cinder", "Bramble", "Teapot", "Shutter", "Feather", "Cobbler", "Puddle", "Chimney", "Pebble", "Wagon",
    "Thimble", "Moss", "Trestle", "Otter", "Bellows", "Clover", "Gosling", "Umbrella", "Icicle", "Juniper",
    "Mitten", "Rafter", "Satchel", "Tinder",
];
const TURNS: &[&str] = &[
    "Quiet", "Little", "Crooked", "Winter", "Silver", "Broken", "Morning", "Distant", "Painted", "Seven",
    "Wooden", "Hidden", "Early", "Tall", "Borrowed", "Paper", "Restless", "Northern", "Golden", "Sleeping",
    "Dusty", "Blue",
];
const SORTS: &[&str] = &[
    "March", "Dance", "Song", "Overture", "Suite", "Prelude", "Waltz", "Air", "Fanfare", "Round", "Reel",
    "Hymn", "Serenade", "Parade", "Chorale", "Sketch", "Nocturne", "Jig",
];
const HEADS: &[&str] = &[
    "Tar", "Bel", "Orn", "Quil", "Mar", "Fen", "Had", "Wick", "Stel", "Ald", "Brin", "Cor", "Dun", "Ever",
    "Gar", "Hol", "Ink", "Kel", "Lor", "Nev", "Os", "Pem", "Rav", "Sed", "Thrum", "Ul", "Ver", "Wen", "Yar",
    "Zel",
];
const MIDDLES: &[&str] = &["ra", "o", "ber", "en", "i", "low", "a", "mo", "ter", "es"];
const TAILS: &[&str] = &[
    "ley", "wick", "more", "ford", "by", "dell", "stead", "quist", "man", "sen", "field", "grove", "ham",
    "den", "worth", "vale", "stone", "well",
];
const FIRST: &[&str] = &[
    "Ida",
    "Bram",
    "Odile",
    "Tam",
    "Nell",
    "Corwin",
    "Agnes",
    "Yusef",
    "Ines",
    "Kip",
    "Mattie",
    "Desmond",
    "Lew",
    "Dot",
    "Ottilie",
    "Wilhelmina",
    "Petra",
    "Hollis",
    "Mavis",
    "Otto",
    "Sabine",
    "Rufus",
    "Linnea",
    "Casimir",
];
const HOUSES: &[&str] = &[
    "Tarmore Editions",
    "Kelbyfield Music",
    "Penstone Press",
    "Quillowell Music",
    "Harwick & Lorden",
    "Fenberham",
    "Silver Thimble Music",
    "Northmoss Press",
    "Brindell Band Works",
    "Copper Otter Editions",
    "Verenfield",
    "Yarstead House",
    "Gosling Lane Music",
    "Ravenwell Editions",
];

/// An invented place.
pub fn town(chance: &mut Chance) -> String {
    let middle = match chance.percent(60) {
        true => chance.one(MIDDLES),
        false => "",
    };
    format!("{}{middle}{}", chance.one(HEADS), chance.one(TAILS))
}

/// An invented title; its number makes it one of its own more often than not.
pub fn title(chance: &mut Chance) -> String {
    let (thing, turn, sort) = (chance.one(THINGS), chance.one(TURNS), chance.one(SORTS));
    let town = town(chance);
    match chance.number(0, 11) {
        0 => format!("The {thing} of {town}"),
        1 => format!("{town} {sort}"),
        2 => format!("{turn} {thing} of {town}"),
        3 => format!("{sort} for a {turn} {thing}"),
        4 => format!("{} {thing}s of {town}", chance.number(3, 9)),
        5 => format!("The {town} {thing} {sort}"),
        6 => format!("{town} {sort} No. {}", chance.number(1, 4)),
        7 => format!("{sort} and {}", chance.one(SORTS)),
        8 => format!("Under the {thing} at {town}"),
        9 => format!("{town}'s {thing}"),
        10 => format!("A {turn} {sort} from {town}"),
        _ => format!("{thing} and {}", chance.one(THINGS)),
    }
}

/// An invented person.
pub fn person(chance: &mut Chance) -> String {
    let last = match chance.percent(70) {
        true => format!("{}{}", chance.one(HEADS), chance.one(TAILS)),
        false => town(chance),
    };
    match chance.percent(12) {
        true => format!("{}. {last}", &chance.one(FIRST)[..1]),
        false => format!("{} {last}", chance.one(FIRST)),
    }
}

/// An invented publisher.
pub fn house(chance: &mut Chance) -> String {
    chance.one(HOUSES).to_owned()
}

/// A word with a slip of the fingers.
pub fn slip(chance: &mut Chance, word: &str) -> String {
    let letters: Vec<char> = word.chars().collect();
    if letters.len() < 4 {
        return format!("{word}{word}");
    }
    let at = chance.number(1, letters.len() as u32 - 2) as usize;
    let mut out = letters.clone();
    match chance.number(0, 2) {
        0 => out.swap(at, at + 1),
        1 => {
            out.remove(at);
        }
        _ => out.insert(at, letters[at]),
    }
    out.into_iter().collect()
}
