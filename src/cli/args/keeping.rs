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
    /// Look at the invented demo year that is part of the program
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
    after_help = "A skill counts as known where the band's card has it under \"taught\"; under \"introduced\" half of its time is left. How long a skill takes and what comes before it stand on its own card; when the band rehearses stands on the band's card; how many new skills a week, and how many weeks a piece is rehearsed, on the handbook's line \"teaching\". The exit status is 0 when everything is ready in time, 1 when something is late, 2 when there is nothing to plan."
)]
pub struct Teach {
    /// The name of a concert or of a band; if left out, all concerts to come
    #[arg(help_heading = "What for", value_name = "NAME")]
    pub name: Vec<String>,
    /// How to show it: table (to read; this if left out) or json (an object a line)
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
    after_help = "A set is there where its card has a library, or a performance. What is bought: sets on the programs to come that are not there, what is wanted, missing parts, and copies where there are fewer than players. What an order costs to send stands on the handbook's line \"postage\". Levare never proposes copying. The exit status is 0 when there is an order or nothing to buy, 1 when the budget is too small, 2 when nothing can be worked out."
)]
pub struct Buy {
    /// The name of a concert, or titles of pieces, each in quotes; if left out, all concerts to come and all that is wanted
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
    /// How to show it: table (to read; this if left out) or json (an object)
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
