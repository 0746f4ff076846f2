//! A catalogue in a folder of its own, and the command run in it.

use std::io::Write;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

/// How a run ended.
#[derive(Debug)]
pub struct Ended {
    /// The exit status.
    pub status: i32,
    /// Standard output.
    pub out: String,
    /// Standard error.
    pub err: String,
}

/// A folder that is gone at the end of the test.
pub struct Bench {
    folder: tempfile::TempDir,
}

/// A card that draws "signature against center" on its last line, and nothing else.
pub const ALDER: &str =
    "piece \"Night Train to Alder\"\n  tonal center    G minor\n  key signature   3 flats\n";

/// A card with a stet that lets nothing stand.
pub const PARADE: &str = "piece \"Harbor Parade\"\n  tonal center    Bb major\n  stet            signature against center because the score has it so\n  key signature   2 flats\n";

/// A card that draws nothing.
pub const WEIR: &str = "piece \"Lanterns on the Weir\"\n  grade           1\n";

impl Bench {
    /// A catalogue of these files beside a handbook.
    pub fn with(files: &[(&str, &str)]) -> Bench {
        let bench = Bench::bare(files);
        bench.write("handbook.levare", "handbook\n  notation        1\n");
        bench
    }

    /// A folder with these files only.
    pub fn bare(files: &[(&str, &str)]) -> Bench {
        let bench = Bench {
            folder: tempfile::tempdir().expect("a folder to test in"),
        };
        for (name, text) in files {
            bench.write(name, text);
        }
        bench
    }

    /// Where a file is.
    pub fn path(&self, name: &str) -> PathBuf {
        self.folder.path().join(name)
    }

    /// Writes a file.
    pub fn write(&self, name: &str, text: impl AsRef<[u8]>) {
        let path = self.path(name);
        std::fs::create_dir_all(path.parent().expect("a folder")).expect("folders");
        std::fs::write(path, text).expect("a file");
    }

    /// Reads a file.
    pub fn read(&self, name: &str) -> String {
        String::from_utf8(std::fs::read(self.path(name)).expect("the file is there")).expect("its text")
    }

    /// Runs the command in the folder.
    pub fn run(&self, arguments: &[&str]) -> Ended {
        self.run_with(arguments, "", &[])
    }

    /// Runs it with something on standard input and with variables set.
    pub fn run_with(&self, arguments: &[&str], input: &str, variables: &[(&str, &str)]) -> Ended {
        run(self.folder.path(), arguments, input.as_bytes(), variables)
    }
}

/// Runs the command in a folder.
pub fn run(folder: &Path, arguments: &[&str], input: &[u8], variables: &[(&str, &str)]) -> Ended {
    let mut child = Command::new(env!("CARGO_BIN_EXE_levare"))
        .args(arguments)
        .current_dir(folder)
        .env_remove("NO_COLOR")
        .env_remove("CLICOLOR_FORCE")
        .envs(variables.iter().copied())
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts");
    let mut stdin = child.stdin.take().expect("standard input");
    // A command that does not read its input may have closed it.
    let _ = stdin.write_all(input);
    drop(stdin);
    let output = child.wait_with_output().expect("the command ends");
    Ended {
        status: output.status.code().expect("it ends by itself"),
        out: String::from_utf8(output.stdout).expect("text"),
        err: String::from_utf8(output.stderr).expect("text"),
    }
}
