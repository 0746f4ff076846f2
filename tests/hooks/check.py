"""Runs the hooks of a manifest in a repository of its own, and says what did not go as it should."""

import os
import pathlib
import subprocess
import sys
import tempfile

import yaml

CLEAN = 'piece "Lanterns on the Weir"\n  grade           1\n'
SLIP = 'piece "Night Train to Alder"\n  tonal center    G minor\n  key signature   3 flats\n'
UNTIDY = 'piece "Drum Barge"\n  grade 1\n'

# Hook, what is in the last commit, what is added, and whether the commit goes through.
TABLE = [
    ("levare-proofread", CLEAN, CLEAN.replace("Weir", "Quay"), True),
    ("levare-proofread", CLEAN, SLIP, False),
    ("levare-proofread", SLIP, CLEAN, False),
    ("levare-proofread-new", CLEAN, SLIP, False),
    ("levare-proofread-new", SLIP, CLEAN, True),
    ("levare-recopy", CLEAN, CLEAN.replace("Weir", "Quay"), True),
    ("levare-recopy", CLEAN, UNTIDY, False),
]


def run(folder, *words):
    settings = dict(
        os.environ,
        GIT_CONFIG_GLOBAL=os.devnull,
        GIT_AUTHOR_NAME="Test",
        GIT_AUTHOR_EMAIL="test@localhost",
        GIT_COMMITTER_NAME="Test",
        GIT_COMMITTER_EMAIL="test@localhost",
    )
    return subprocess.run(words, cwd=folder, env=settings, capture_output=True, text=True)


def goes_through(hook, before, added):
    with tempfile.TemporaryDirectory() as place:
        folder = pathlib.Path(place)
        (folder / "handbook.levare").write_text("handbook\n  notation        1\n")
        (folder / "before.levare").write_text(before)
        # The program that was just built stands for the one that pre-commit would build.
        local = dict(hook, language="system")
        config = {"repos": [{"repo": "local", "hooks": [local]}]}
        (folder / ".pre-commit-config.yaml").write_text(yaml.safe_dump(config))
        for words in (["init", "--quiet"], ["add", "."], ["commit", "--quiet", "-m", "First"]):
            done = run(folder, "git", *words)
            assert done.returncode == 0, done.stderr
        done = run(folder, "pre-commit", "install")
        assert done.returncode == 0, done.stdout + done.stderr
        (folder / "added.levare").write_text(added)
        run(folder, "git", "add", ".")
        done = run(folder, "git", "commit", "-m", "Second")
        said = done.stdout + done.stderr
        assert hook["name"] in said, said
        return done.returncode == 0, said


def main(manifest):
    hooks = {hook["id"]: hook for hook in yaml.safe_load(pathlib.Path(manifest).read_text())}
    faults = 0
    for name, before, added, wanted in TABLE:
        went, said = goes_through(hooks[name], before, added)
        if went != wanted:
            faults += 1
            print(f"{name}: {'stopped' if wanted else 'went through'}\n{said}")
    untried = set(hooks) - {name for name, *_ in TABLE}
    for name in untried:
        faults += 1
        print(f"{name} is not tried")
    print(f"{len(TABLE)} commits tried, {faults} not as they should")
    return 1 if faults else 0


sys.exit(main(sys.argv[1]))
