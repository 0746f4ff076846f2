//! What shells and `man` need to know of the command line.

use std::io::{self, Write};

use clap::CommandFactory;

use super::Status;
use super::args::Levare;

/// Prints what a shell needs to complete words.
pub fn completions(shell: clap_complete::Shell, out: &mut dyn Write) -> io::Result<Status> {
    let mut command = Levare::command();
    let mut script = Vec::new();
    clap_complete::generate(shell, &mut command, "levare", &mut script);
    out.write_all(&script)?;
    Ok(Status::Nothing)
}

/// Prints the page for `man`, all commands on one page.
pub fn manual_page(out: &mut dyn Write) -> io::Result<Status> {
    let mut command = Levare::command();
    command.build();
    let mut page = Vec::new();
    clap_mangen::Man::new(command.clone()).render(&mut page)?;
    for inner in command.get_subcommands() {
        writeln!(page, ".SH \"LEVARE {}\"", inner.get_name().to_uppercase())?;
        let man = clap_mangen::Man::new(inner.clone());
        man.render_synopsis_section(&mut page)?;
        man.render_description_section(&mut page)?;
        man.render_options_section(&mut page)?;
    }
    out.write_all(&page)?;
    Ok(Status::Nothing)
}
