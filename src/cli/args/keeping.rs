//! What can be said of teaching, buying and the library.

use std::path::PathBuf;

use clap::{Args, ValueEnum};
use jiff::civil::Date;

use super::day;

/// Which catalogue is asked about, and as of which day.
#[derive(Debug, Args)]
pub struct Where {
    /// The folder of the catalog; if left out, the one you are in
    #[arg(long = "in", value_name = "FOLDER", conflicts_with = "demo")]
    pub folder: Option<PathBuf>,
    /// Read the catalog as of this day, such as 2026-10-20; if left out, today
    #[arg(long, value_parser = day, value_name = "DAY")]
    pub today: Option<Date>,
    /// Read the invented demo year that is part of the program
    #[arg(long)]
    pub demo: bool,
}

/// How something is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum PlainForm {
    /// To read
    #[default]
    Table,
    /// One JSON object a line
    Json,
}

/// `levare teach`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "A skill counts as known where the band's card has it under \"taught\"; under \"introduced\" half of its time is left. A skill's own card says how long it takes and what comes before it; the band's card when the band rehearses; the handbook's line \"teaching\" how many new skills a week, and how many weeks to a piece. For example:\n  levare teach\n  levare teach \"Winter evening\""
)]
pub struct Teach {
    /// The name of a concert or of a band; if left out, all coming concerts
    #[arg(help_heading = "What for", value_name = "NAME")]
    pub name: Vec<String>,
    /// Write onto the bands' cards by when each skill is taught
    #[arg(long, conflicts_with = "demo")]
    pub write: bool,
    /// How to show it: table (to read; this if left out) or json (for other programs)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: PlainForm,
    #[command(flatten)]
    pub at: Where,
}

/// `levare buy`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "You have a set where its card has a library, or a performance. To be bought: sets on coming programs that you do not have, what is wanted, missing parts, and copies where there are fewer than players. The handbook's line \"postage\" says what an order costs to send. Levare never suggests copying. For example:\n  levare buy\n  levare buy \"Winter evening\" --budget \"200 USD\""
)]
pub struct Buy {
    /// The name of a concert, or titles of pieces, each in quotes; if left out, all coming concerts and everything that is wanted
    #[arg(help_heading = "What for", value_name = "NAME")]
    pub name: Vec<String>,
    /// What may be spent, such as "200 USD": what the concerts need, then as much of what is wanted as there is money for
    #[arg(long, value_name = "MONEY")]
    pub budget: Option<String>,
    /// What makes a wanted piece worth more, as in "calls for"; may be given more than once
    #[arg(long, value_name = "CONDITION", requires = "budget")]
    pub prefer: Vec<String>,
    /// What each seller takes for sending an order, such as "8 USD"; if left out, what the handbook says
    #[arg(long, value_name = "MONEY")]
    pub postage: Option<String>,
    /// How to show it: table (to read; this if left out) or json (for other programs)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: PlainForm,
    #[command(flatten)]
    pub at: Where,
}

/// `levare library`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "For a count: \"levare library --as csv\" writes a sheet for a spreadsheet, \"--as page --to count.html\" one to print. Fill in the column \"counted\", save it as CSV, and \"levare library --counted count.csv\" says what differs; with --write the new counts go onto the cards. For example:\n  levare library\n  levare library \"Harbor Parade\""
)]
pub struct Library {
    /// Titles of pieces, each in quotes; if left out, all sets
    #[arg(help_heading = "Which sets", value_name = "TITLE")]
    pub name: Vec<String>,
    /// A filled sheet in CSV to read back
    #[arg(long, value_name = "FILE", conflicts_with_all = ["demo", "to"])]
    pub counted: Option<PathBuf>,
    /// Write the counts onto the cards
    #[arg(long, requires = "counted")]
    pub write: bool,
    /// How to show it: table (to read; this if left out), json (for other programs), csv (a sheet for a count) or page (the same to print)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: LibraryForm,
    /// The file that a page is written to, such as count.html; if left out, it is printed here
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    #[command(flatten)]
    pub at: Where,
}

/// How a library is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum LibraryForm {
    /// To read
    #[default]
    Table,
    /// One JSON object a line
    Json,
    /// A sheet for a count, for a spreadsheet
    Csv,
    /// A sheet for a count, to print
    Page,
}

/// `levare record`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "Writes a \"performed\" line onto the card of every piece of the program, with the day and the band of the concert's card; a line that is there already is only added to. All cards are written, or none. For example:\n  levare record \"Winter evening\"\n  levare record \"Winter evening\" --piece \"Harbor Parade\" --took \"5 weeks\""
)]
pub struct Record {
    /// The name of the concert
    #[arg(help_heading = "What was played", value_name = "CONCERT", required = true)]
    pub name: Vec<String>,
    /// Only this piece; may be given more than once
    #[arg(long, value_name = "TITLE")]
    pub piece: Vec<String>,
    /// How long it took, such as "5 weeks"
    #[arg(long, value_name = "TIME", requires = "piece")]
    pub took: Option<String>,
    /// The ratings, such as "I I II"
    #[arg(long, value_name = "RATINGS")]
    pub result: Option<String>,
    /// How it went, such as "went well"
    #[arg(long, value_name = "WORDS")]
    pub how: Option<String>,
    /// What playing it taught, in your own words
    #[arg(long, value_name = "WORDS", requires = "piece")]
    pub learned: Option<String>,
    /// A skill that the band knows now; may be given more than once
    #[arg(long, value_name = "SKILL")]
    pub taught: Vec<String>,
    #[command(flatten)]
    pub at: Where,
}

/// `levare season`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "Every concert keeps to its own card, as \"levare choose\" does: its length, what it calls for, the pieces on its program. No piece is played twice, and the budget holds for all of them. For example:\n  levare season\n  levare season \"Winter evening\" \"Spring concert\" --budget \"250 USD\""
)]
pub struct Season {
    /// The names of the concerts, each in quotes; if left out, all coming concerts
    #[arg(help_heading = "Which concerts", value_name = "CONCERT")]
    pub name: Vec<String>,
    /// What may be spent on pieces that are wanted, in all, such as "250 USD"; if left out, nothing
    #[arg(long, value_name = "MONEY")]
    pub budget: Option<String>,
    /// What each seller takes for sending an order, such as "8 USD"; if left out, what the handbook says
    #[arg(long, value_name = "MONEY", requires = "budget")]
    pub postage: Option<String>,
    /// How many new skills, ones that a band has not been taught, all concerts together may ask of it
    #[arg(long, value_name = "NUMBER")]
    pub new_skills: Option<u32>,
    /// How many years a piece rests after a performance: 2 if left out, 0 for none
    #[arg(long, value_name = "YEARS", default_value_t = 2, hide_default_value = true, value_parser = clap::value_parser!(u32).range(..=100))]
    pub rest: u32,
    /// Write the programs onto the concerts' cards
    #[arg(long, conflicts_with = "demo")]
    pub write: bool,
    /// How to show it: table (to read; this if left out) or json (for other programs)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: PlainForm,
    #[command(flatten)]
    pub at: Where,
}

/// `levare grade`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "Criteria are cards such as: criteria \"our grade 1\", with a line: calls for up to 3 flats. Each of their conditions is answered with yes, no, or what is not known. For example:\n  levare grade \"Lanterns on the Weir\"\n  levare grade \"Lanterns on the Weir\" --for \"Seventh Grade Band\""
)]
pub struct Grade {
    /// The title of the piece
    #[arg(help_heading = "Which piece", value_name = "TITLE", required = true)]
    pub name: Vec<String>,
    /// Ask for this band, and not for the one that would play it anyway
    #[arg(long = "for", value_name = "BAND")]
    pub band: Option<String>,
    /// How to show it: table (to read; this if left out) or json (for other programs)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: PlainForm,
    #[command(flatten)]
    pub at: Where,
}
