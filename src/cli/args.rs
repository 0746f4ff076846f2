//! What can be said on the command line.

mod keeping;

use std::path::PathBuf;

use clap::{ArgAction, Args, Parser, Subcommand, ValueEnum};
use jiff::civil::Date;

use super::color::When;
use crate::findings::Severity;
use crate::planning::choose::{OTHERS, RESTS};

pub use keeping::{Buy, Grade, Library, LibraryForm, PlainForm, Record, Season, Teach, Where};

const PAGE: &str = "\
{about-with-newline}
Type  {usage}

{all-args}{after-help}";

/// Keep your band's catalog in plain text, and have it proofread.
#[derive(Debug, Parser)]
#[command(
    name = "levare",
    version,
    help_template = PAGE,
    override_usage = "levare WHAT-TO-DO [choices]",
    subcommand_help_heading = "What to do",
    subcommand_value_name = "WHAT TO DO",
    disable_help_subcommand = true,
    disable_help_flag = true,
    disable_version_flag = true,
    arg_required_else_help = true,
    next_help_heading = "Choices",
    after_help = "New here? `levare start` writes a small catalog to fill in; `levare proofread --demo` shows what is found in an invented year."
)]
pub struct Levare {
    /// What to do.
    #[command(subcommand)]
    pub command: Command,
    /// Whether to color: auto (on a terminal), always or never
    #[arg(
        long,
        global = true,
        value_enum,
        value_name = "WHEN",
        default_value_t,
        hide_possible_values = true,
        hide_default_value = true,
        display_order = 900
    )]
    pub color: When,
    /// Show this page
    #[arg(short, long, global = true, action = ArgAction::Help, display_order = 901)]
    help: Option<bool>,
    /// Show which version of levare this is
    #[arg(short = 'V', long, action = ArgAction::Version, display_order = 902)]
    version: Option<bool>,
}

/// What to do.
#[derive(Debug, Subcommand)]
pub enum Command {
    /// Write a new catalog to fill in
    #[command(help_template = PAGE, override_usage = "levare start [FOLDER] [choices]")]
    Start(Start),
    /// Read the catalog and report what does not fit
    #[command(help_template = PAGE, override_usage = "levare proofread [PATH ...] [choices]")]
    Proofread(Proofread),
    /// Recopy cards neatly, each line in its place
    #[command(help_template = PAGE, override_usage = "levare recopy [PATH ...] [choices]")]
    Recopy(Recopy),
    /// Say what changed between two catalogs, or since a commit
    #[command(help_template = PAGE, override_usage = "levare compare OLD NEW [choices]\n      levare compare --since COMMIT [PATH] [choices]")]
    Compare(Compare),
    /// Put two people's changes to one file, or to the whole catalog, together
    #[command(help_template = PAGE, override_usage = "levare merge [BASE OURS THEIRS] [choices]")]
    Merge(Merge),
    /// Work out who plays what in a piece or a concert
    #[command(help_template = PAGE, override_usage = "levare assign NAME [choices]")]
    Assign(Assign),
    /// Build a concert: the pieces, and their order
    #[command(help_template = PAGE, override_usage = "levare choose NAME [choices]")]
    Choose(Choose),
    /// Find pieces by what you ask of them, with why each matched
    #[command(help_template = PAGE, override_usage = "levare find CONDITION ... [choices]")]
    Find(Find),
    /// Say where a piece stands: its grades, and each of your criteria, condition by condition
    #[command(help_template = PAGE, override_usage = "levare grade TITLE [choices]")]
    Grade(Grade),
    /// Build several concerts together, so that no piece comes twice
    #[command(help_template = PAGE, override_usage = "levare season [CONCERT ...] [choices]")]
    Season(Season),
    /// Plan what to teach, and in which week
    #[command(help_template = PAGE, override_usage = "levare teach [NAME] [choices]")]
    Teach(Teach),
    /// Work out what to order for the least money
    #[command(help_template = PAGE, override_usage = "levare buy [NAME ...] [choices]")]
    Buy(Buy),
    /// Say where each set is and what is in it, and take a count
    #[command(help_template = PAGE, override_usage = "levare library [TITLE ...] [choices]")]
    Library(Library),
    /// Record that a concert was played, and what came of it
    #[command(help_template = PAGE, override_usage = "levare record CONCERT [choices]")]
    Record(Record),
    /// Explain a finding, and what to do about it
    #[command(help_template = PAGE, override_usage = "levare reason [PHRASE] [choices]")]
    Reason(Reason),
    /// Proofread inside an editor, which starts this by itself
    #[command(help_template = PAGE, override_usage = "levare desk")]
    Desk(Desk),
    /// Print what a command line needs to finish these words for you
    #[command(help_template = PAGE, override_usage = "levare completions SHELL")]
    Completions(Completions),
    /// Print the page for `man`
    #[command(help_template = PAGE, override_usage = "levare manual-page")]
    ManualPage,
}

/// `levare start`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "For example:\n  levare start\n  levare start band-room"
)]
pub struct Start {
    /// The folder to write into, made if it is not there; if left out, the one you are in
    #[arg(help_heading = "Where", value_name = "FOLDER")]
    pub folder: Option<PathBuf>,
    /// The same folder, said as every other command takes it
    #[arg(long = "in", value_name = "FOLDER", conflicts_with = "folder")]
    pub inside: Option<PathBuf>,
    /// Write the invented demo year: two bands, thirty-odd pieces, three concerts
    #[arg(long)]
    pub demo: bool,
    /// Teach git to merge and show cards, and to proofread before each commit; a catalog that is there already is left as it is
    #[arg(long)]
    pub git: bool,
}

/// `levare proofread`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "For example:\n  levare proofread\n  levare proofread --correct\n  levare proofread spring-concert.levare --least hint"
)]
pub struct Proofread {
    /// Files and folders to report on; if left out, the catalog you are in
    #[arg(help_heading = "What to read", value_name = "PATH", conflicts_with_all = ["demo", "instead_of"])]
    pub paths: Vec<PathBuf>,
    /// The folder of the catalog; if left out, the one you are in
    #[arg(long = "in", value_name = "FOLDER", conflicts_with_all = ["demo", "instead_of", "paths"])]
    pub folder: Option<PathBuf>,
    /// How to report: cards (to read; this if left out), aloud (for a screen reader), json, sarif or merge-request (for other programs)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: Form,
    /// The weakest findings to report: hint, information (this if left out), warning or error
    #[arg(long, value_parser = severity, value_name = "STRENGTH", default_value = "information", hide_default_value = true)]
    pub least: Severity,
    /// Make the corrections that need no decision, until none is left
    #[arg(long, conflicts_with = "demo")]
    pub correct: bool,
    /// With --correct: show the corrections, and leave the files as they are
    #[arg(long, requires = "correct", conflicts_with = "form")]
    pub leave: bool,
    /// Write down everything that is found now as known; from then on only what is new is reported
    #[arg(long, conflicts_with_all = ["demo", "instead_of", "correct", "form", "paths"])]
    pub record_known: bool,
    /// Report known findings too
    #[arg(long)]
    pub all: bool,
    /// Report only what is new since this commit of git, such as HEAD
    #[arg(long, value_name = "COMMIT", conflicts_with_all = ["demo", "instead_of", "correct", "record_known", "all"])]
    pub since: Option<String>,
    /// Read the catalog as of this day, such as 2026-10-20; if left out, today
    #[arg(long, value_parser = day, value_name = "DAY")]
    pub today: Option<Date>,
    /// For other programs: read standard input in place of this file, which need not be there
    #[arg(long, value_name = "FILE")]
    pub instead_of: Option<PathBuf>,
    /// Read the invented demo year that is part of the program
    #[arg(long, conflicts_with = "instead_of")]
    pub demo: bool,
}

/// How findings are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum Form {
    /// To read
    #[default]
    Cards,
    /// To be read out by a screen reader: whole sentences, nothing drawn
    Aloud,
    /// One JSON object a line
    Json,
    /// SARIF 2.1.0
    Sarif,
    /// GitLab's report for a merge request
    MergeRequest,
}

/// `levare recopy`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "For example:\n  levare recopy\n  levare recopy pieces.levare --leave"
)]
pub struct Recopy {
    /// Files and folders to recopy; if left out, the catalog you are in
    #[arg(
        help_heading = "What to read",
        value_name = "PATH",
        conflicts_with = "instead_of"
    )]
    pub paths: Vec<PathBuf>,
    /// The folder of the catalog; if left out, the one you are in
    #[arg(long = "in", value_name = "FOLDER", conflicts_with_all = ["instead_of", "paths"])]
    pub folder: Option<PathBuf>,
    /// Show what would change, and leave the files as they are
    #[arg(long)]
    pub leave: bool,
    /// Also put the lines of each card in the order of the manual
    #[arg(long)]
    pub order: bool,
    /// For other programs: recopy standard input in place of this file, and print it
    #[arg(long, value_name = "FILE")]
    pub instead_of: Option<PathBuf>,
}

/// `levare compare`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "For example:\n  levare compare last-year this-year\n  levare compare --since HEAD"
)]
pub struct Compare {
    /// Two files or two folders, the old one first; with --since one or none, and the catalog you are in if left out
    #[arg(help_heading = "What to compare", value_name = "PATH", num_args = 0..=2)]
    pub paths: Vec<PathBuf>,
    /// Compare what is in the folder now with what git kept at this commit, such as HEAD
    #[arg(long, value_name = "COMMIT")]
    pub since: Option<String>,
    /// With --since: the folder of the catalog; if left out, the one you are in
    #[arg(
        long = "in",
        value_name = "FOLDER",
        requires = "since",
        conflicts_with = "paths"
    )]
    pub folder: Option<PathBuf>,
    /// How to show it: cards (to read; this if left out), json (for other programs) or markdown (for a review)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: CompareForm,
    /// The weakest findings to report: hint, information (this if left out), warning or error
    #[arg(long, value_parser = severity, value_name = "STRENGTH", default_value = "information", hide_default_value = true)]
    pub least: Severity,
    /// Read both as of this day, such as 2026-10-20; if left out, today
    #[arg(long, value_parser = day, value_name = "DAY")]
    pub today: Option<Date>,
}

/// How changes are told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum CompareForm {
    /// To read
    #[default]
    Cards,
    /// One JSON object a line
    Json,
    /// Markdown
    Markdown,
}

/// `levare merge`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "What both of you changed in different ways stays in both versions, between marks. For example:\n  levare merge before.levare mine.levare hers.levare --to together.levare"
)]
pub struct Merge {
    /// The file that both started from, yours, and the other's; if left out, the whole catalog you are in, where a merge by git has stopped
    #[arg(help_heading = "What to put together", value_names = ["BASE", "OURS", "THEIRS"], num_args = 3, required = false)]
    pub files: Vec<PathBuf>,
    /// The folder of the catalog, where it is put together whole; if left out, the one you are in
    #[arg(long = "in", value_name = "FOLDER", conflicts_with = "files")]
    pub folder: Option<PathBuf>,
    /// The file that the result is written to, which may be OURS; if left out, it is printed here
    #[arg(long, value_name = "FILE", requires = "files")]
    pub to: Option<PathBuf>,
    /// What the file is called where clashes are listed; if left out, OURS
    #[arg(long, value_name = "NAME", requires = "files")]
    pub called: Option<String>,
}

/// `levare assign`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "For example:\n  levare assign \"Drum Hill\"\n  levare assign \"Winter evening\" --without P3 --without \"1 tuba\"\n  levare assign \"Winter evening\" --as door --to door.html"
)]
pub struct Assign {
    /// The name of a piece or of a concert; for a setup also of a band
    #[arg(help_heading = "What to share out", value_name = "NAME", required = true)]
    pub name: Vec<String>,
    /// The band that plays it; if left out, the concert's, else the handbook's
    #[arg(long = "for", value_name = "BAND")]
    pub band: Option<String>,
    /// Who is absent, by seat or initials, or as "1 tuba"; may be given more than once
    #[arg(long, value_name = "SEAT", value_delimiter = ',')]
    pub without: Vec<String>,
    /// Earlier concerts whose playing counts too, so that over all of them it is shared fairly; may be given more than once
    #[arg(long, value_name = "CONCERT")]
    pub after: Vec<String>,
    /// Let instruments be handed over from player to player in the rests
    #[arg(long)]
    pub handing_over: bool,
    /// How to show it: table (to read; this if left out), json (for other programs), door (a page for the door), counting (a page that counts the rests), cards (a card a player for the folder, four on a sheet) or seating (a page with the setup)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: AssignForm,
    /// The file that a page is written to, such as door.html; if left out, it is printed here
    #[arg(long, value_name = "FILE")]
    pub to: Option<PathBuf>,
    /// What a page is printed on: letter (this if left out), tabloid, a4 or a3
    #[arg(
        long,
        value_enum,
        value_name = "PAPER",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub paper: PaperSize,
    /// How many seconds to look at most; then the best so far is shown, and you are told that there may be better
    #[arg(long, value_name = "SECONDS", value_parser = clap::value_parser!(u32).range(..=86_400))]
    pub seconds: Option<u32>,
    #[command(flatten)]
    pub at: Where,
}

/// How a sharing is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum AssignForm {
    /// To read
    #[default]
    Table,
    /// One JSON object a line
    Json,
    /// A page with the setup, to print
    Seating,
    /// A page for the door of the band room, to open in a browser and print
    Door,
    /// A page on which each player's line is counted as in a part
    Counting,
    /// A card a player for the folder, four on a sheet
    Cards,
}

/// What pages are printed on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum PaperSize {
    /// US Letter
    #[default]
    Letter,
    /// US Tabloid
    Tabloid,
    /// A4
    A4,
    /// A3
    A3,
}

/// `levare choose`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "The concert's card counts: its length, what it calls for, and the pieces on its program, which stay. Pieces with a part that nobody in the band can play are left out. Where several bands play, each is given pieces of its own. For example:\n  levare choose \"Winter evening\"\n  levare choose \"Seventh Grade Band\" --length \"20 minutes\" --with \"a march\""
)]
pub struct Choose {
    /// The name of a concert, or of a band for a concert without a card
    #[arg(help_heading = "What to build", value_name = "NAME", required = true)]
    pub name: Vec<String>,
    /// What each piece or the whole program must meet, as in "calls for"; for one band of several its name in quotes and a colon come first; may be given more than once
    #[arg(long, value_name = "CONDITION")]
    pub with: Vec<String>,
    /// What makes a piece worth more; may be given more than once
    #[arg(long, value_name = "CONDITION")]
    pub prefer: Vec<String>,
    /// Where several bands play: how long one of them may play at most; may be given for each, such as --share "Sixth Grade Band" "10 minutes"; if left out, what the card's length says for it
    #[arg(long, num_args = 2, value_names = ["BAND", "TIME"])]
    pub share: Vec<String>,
    /// Where several bands play: let one of them play as little as one piece; without this, half of an even share at least, unless you give it a share or have put titles on the program for it
    #[arg(long)]
    pub uneven: bool,
    /// Where several bands play and the program has no titles yet: let them play all of it as one band
    #[arg(long)]
    pub together: bool,
    /// A piece that must be on the program; may be given more than once
    #[arg(long, value_name = "TITLE")]
    pub keep: Vec<String>,
    /// A piece that is not wanted; may be given more than once
    #[arg(long, value_name = "TITLE")]
    pub without: Vec<String>,
    /// How long it may last, such as "20 minutes" or 18:30; if left out, what the card says
    #[arg(long, value_name = "TIME")]
    pub length: Option<String>,
    /// The time between two pieces, such as 1:30; if left out, what the card says
    #[arg(long, value_name = "TIME")]
    pub between: Option<String>,
    /// What may be spent on pieces that are wanted, such as "120 USD"; if left out, what the card says, else nothing
    #[arg(long, value_name = "MONEY")]
    pub budget: Option<String>,
    /// What each seller takes for sending an order, such as "8 USD"; if left out, what the handbook says
    #[arg(long, value_name = "MONEY", requires = "budget")]
    pub postage: Option<String>,
    /// How many new skills, ones that the band has not been taught, the program may ask for in all; if left out, what the card says
    #[arg(long, value_name = "NUMBER")]
    pub new_skills: Option<u32>,
    /// Let pieces be in keys that the band has not been taught
    #[arg(long)]
    pub new_keys: bool,
    /// Let pieces need percussion instruments that the band does not have
    #[arg(long)]
    pub borrow: bool,
    /// How many years a piece rests after a performance: 2 if left out, 0 for none
    #[arg(long, value_name = "YEARS", default_value_t = RESTS, hide_default_value = true, value_parser = clap::value_parser!(u32).range(..=100))]
    pub rest: u32,
    /// How many of the next best programs to show: 2 if left out, 0 for none
    #[arg(long, value_name = "NUMBER", default_value_t = OTHERS, hide_default_value = true, value_parser = clap::value_parser!(u32).range(..=20))]
    pub others: u32,
    /// Let pieces be alike; without this at most 2 of one style, 2 in one key, and 2 by one composer
    #[arg(long)]
    pub alike: bool,
    /// Write the program onto the concert's card
    #[arg(long, conflicts_with = "demo")]
    pub write: bool,
    /// How to show it: table (to read; this if left out) or json
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: ChooseForm,
    #[command(flatten)]
    pub at: Where,
}

/// How a choice is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum ChooseForm {
    /// To read
    #[default]
    Table,
    /// One JSON object
    Json,
}

/// `levare find`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "Conditions are those of \"calls for\" on a card. Pieces whose cards do not say enough are listed apart. For example:\n  levare find \"up to 3 flats\" \"a march or a waltz\"\n  levare find \"not performed since 2023\" \"covered\" --sorted length"
)]
pub struct Find {
    /// What to ask for; separate conditions by commas, or put each in quotation marks of its own
    #[arg(help_heading = "What to find", value_name = "CONDITION", required = true)]
    pub condition: Vec<String>,
    /// How to sort the list: by title (this if left out), grade, length, price or performed (those never played first, then those played longest ago)
    #[arg(
        long,
        value_enum,
        value_name = "WHAT",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub sorted: FindOrder,
    /// The band that would play; if left out, the one whose concert lists the piece, else the handbook's
    #[arg(long = "for", value_name = "BAND")]
    pub band: Option<String>,
    /// How to show it: table (to read; this if left out), json (for other programs) or csv (for a spreadsheet)
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: FindForm,
    #[command(flatten)]
    pub at: Where,
}

/// How what was found is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum FindForm {
    /// To read
    #[default]
    Table,
    /// One JSON object a line
    Json,
    /// For a spreadsheet
    Csv,
}

/// What the list is sorted by.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum FindOrder {
    /// By title
    #[default]
    Title,
    /// The easiest first
    Grade,
    /// The shortest first
    Length,
    /// The cheapest first
    Price,
    /// Those never performed, then those performed longest ago
    Performed,
}

/// `levare reason`
#[derive(Debug, Args)]
#[command(
    next_help_heading = "Choices",
    after_help = "For example:\n  levare reason\n  levare reason over the break"
)]
pub struct Reason {
    /// What the finding is called, such as: over the break; if left out, all of them are listed
    #[arg(help_heading = "Which one", value_name = "PHRASE")]
    pub phrase: Vec<String>,
    /// How to show it: cards (to read; this if left out) or json
    #[arg(
        long = "as",
        value_enum,
        value_name = "FORM",
        default_value_t,
        hide_default_value = true,
        hide_possible_values = true
    )]
    pub form: ReasonForm,
}

/// How a reason is told.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, ValueEnum)]
pub enum ReasonForm {
    /// To read
    #[default]
    Cards,
    /// One JSON object a line
    Json,
}

/// `levare desk`
#[derive(Debug, Args)]
#[command(next_help_heading = "Choices")]
pub struct Desk {
    /// Speak over standard input and output; editors may say so, and nothing else is possible
    #[arg(long, hide = true)]
    pub stdio: bool,
}

/// `levare completions`
#[derive(Debug, Args)]
#[command(next_help_heading = "Choices")]
pub struct Completions {
    /// bash, elvish, fish, powershell or zsh
    #[arg(
        help_heading = "Which one",
        value_enum,
        value_name = "SHELL",
        hide_possible_values = true
    )]
    pub shell: clap_complete::Shell,
}

fn severity(word: &str) -> Result<Severity, String> {
    Severity::of_word(word).ok_or_else(|| "it is hint, information, warning or error".to_owned())
}

fn day(word: &str) -> Result<Date, String> {
    word.parse()
        .map_err(|_| "a day is written year-month-day, such as 2026-10-20".to_owned())
}
