//! Where a catalogue begins.

use std::fs;
use std::path::{Component, Path, PathBuf};

/// The file that makes a folder a catalogue. Capitals do not matter.
pub const HANDBOOK: &str = "handbook.levare";

/// The folder of the catalogue that the file or folder `path` is in: the nearest one, itself included,
/// that holds a handbook. It is found from the path alone, wherever the program was started; only a
/// relative path is first completed with the current folder. The path need not exist.
pub fn catalogue_root(path: &Path) -> Option<PathBuf> {
    let path = settled(path);
    path.ancestors()
        .find(|folder| holds_handbook(folder))
        .map(Path::to_path_buf)
}

/// Whether the folder holds a handbook.
pub(super) fn holds_handbook(folder: &Path) -> bool {
    if folder.join(HANDBOOK).is_file() {
        return true;
    }
    let Ok(entries) = fs::read_dir(folder) else {
        return false;
    };
    entries.flatten().any(|entry| {
        let name = entry.file_name();
        name.eq_ignore_ascii_case(HANDBOOK) && entry.path().is_file()
    })
}

/// The path as an absolute one without `..`. Links are followed only where a `..` makes it necessary.
pub fn settled(path: &Path) -> PathBuf {
    let path = std::path::absolute(path).unwrap_or_else(|_| path.to_path_buf());
    if !path.components().any(|part| part == Component::ParentDir) {
        return path;
    }
    real(&path).unwrap_or(path)
}

/// The path with every link in its folders followed; the last part, which need not exist, stays as it is.
pub(super) fn real(path: &Path) -> Option<PathBuf> {
    match (path.parent(), path.file_name()) {
        (Some(folder), Some(name)) => fs::canonicalize(folder).ok().map(|f| f.join(name)),
        _ => fs::canonicalize(path).ok(),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_nearest_handbook_upwards() {
        let place = tempfile::tempdir().expect("a folder to test in");
        let top = fs::canonicalize(place.path()).expect("its real name");
        for folder in [
            "school/grade 7/spring",
            "school/grade 8",
            "elsewhere",
            "odd/handbook.levare",
        ] {
            fs::create_dir_all(top.join(folder)).expect("folders");
        }
        for file in ["school/handbook.levare", "school/grade 8/Handbook.LEVARE"] {
            fs::write(top.join(file), "handbook\n").expect("files");
        }
        let table = [
            ("school", Some("school")),
            ("school/handbook.levare", Some("school")),
            ("school/grade 7/spring/not yet there.levare", Some("school")),
            ("school/grade 8/fall.levare", Some("school/grade 8")),
            ("school/grade 7/../grade 8/x.levare", Some("school/grade 8")),
            ("school/grade 8/../x.levare", Some("school")),
            ("elsewhere/x.levare", None),
            ("odd/x.levare", None),
        ];
        for (path, root) in table {
            assert_eq!(
                catalogue_root(&top.join(path)),
                root.map(|r| top.join(r)),
                "{path}"
            );
        }
    }
}
