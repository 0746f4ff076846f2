"""Tries the recipes of grammar/hosts.md: each against the published schema of its host, and Levare's own commands of
each in a repository that has one old finding and one new."""

import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile

import yaml

OLD = 'piece "Night Train to Alder"\n  tonal center    G minor\n  key signature   3 flats\n'
NEW = 'piece "Slow Train to Alder"\n  tonal center    G minor\n  key signature   4 flats\n'

# What says whether a recipe is one: the schemas that the hosts publish, as the program check-jsonschema packs them, and
# the pre-commit program itself.
CHECKS = {
    "github": ["check-jsonschema", "--builtin-schema", "vendor.github-workflows"],
    "gitlab": ["check-jsonschema", "--builtin-schema", "vendor.gitlab-ci"],
    "pre-commit": ["pre-commit", "validate-config"],
}


def run(folder, words, **more):
    settings = dict(
        os.environ,
        GIT_CONFIG_GLOBAL=os.devnull,
        GIT_AUTHOR_NAME="Test",
        GIT_AUTHOR_EMAIL="test@localhost",
        GIT_COMMITTER_NAME="Test",
        GIT_COMMITTER_EMAIL="test@localhost",
        **more,
    )
    return subprocess.run(words, cwd=folder, env=settings, capture_output=True, text=True)


def recipes(page):
    return dict(re.findall(r"^```yaml (\S+)\n(.*?)^```", page, re.M | re.S))


def holds(name, text):
    """Whether the host would take the recipe."""
    with tempfile.TemporaryDirectory() as place:
        file = pathlib.Path(place) / "recipe.yaml"
        file.write_text(text)
        done = run(place, [*CHECKS[name], str(file)])
    return done.returncode == 0, done.stdout + done.stderr


def commands(name, text):
    """Levare's own commands of a recipe, in order."""
    recipe = yaml.safe_load(text)
    if name == "github":
        steps = recipe["jobs"]["proofread"]["steps"]
        return [step["run"] for step in steps if step.get("run", "").startswith("levare ")]
    if name == "gitlab":
        return recipe["proofread"]["script"]
    return []


def repository(place):
    folder = pathlib.Path(place)
    (folder / "handbook.levare").write_text("handbook\n  notation        1\n")
    (folder / "old.levare").write_text(OLD)
    for words in (["init", "--quiet", "-b", "main"], ["add", "."], ["commit", "--quiet", "-m", "First"]):
        done = run(folder, ["git", *words])
        assert done.returncode == 0, done.stderr
    # What a host's clone knows the branch as, which a change is made for.
    run(folder, ["git", "update-ref", "refs/remotes/origin/main", "HEAD"])
    return folder


def tried(name, text):
    """The faults of a recipe's commands: with nothing new all of them end well, with a new finding the last stops."""
    faults = []
    for added, wanted in ((None, 0), (NEW, 1)):
        with tempfile.TemporaryDirectory() as place:
            folder = repository(place)
            (folder / "notes.txt").write_text("Nothing that Levare reads.\n")
            if added:
                (folder / "added.levare").write_text(added)
            run(folder, ["git", "add", "."])
            run(folder, ["git", "commit", "--quiet", "-m", "Second"])
            more = {"GITHUB_BASE_REF": "main", "GITHUB_STEP_SUMMARY": str(folder / "summary.md")}
            statuses = []
            for command in commands(name, text):
                done = run(folder, ["bash", "-e", "-o", "pipefail", "-c", command], **more)
                statuses.append(done.returncode)
            if statuses[:-1] != [0] * (len(statuses) - 1) or statuses[-1] != wanted:
                faults.append(f"{name}: the commands end with {statuses}, and the last should end with {wanted}")
            found = 2 if added else 1
            if name == "github":
                log = json.loads((folder / "levare.sarif").read_text())
                count = len(log["runs"][0]["results"])
                summary = (folder / "summary.md").read_text()
                if ("Slow Train" in summary) != bool(added):
                    faults.append(f"{name}: the summary says {summary!r}")
            else:
                count = len(json.loads((folder / "levare.json").read_text()))
            if count != found:
                faults.append(f"{name}: {count} findings are reported, not {found}")
    return faults


def main(page):
    found = recipes(pathlib.Path(page).read_text())
    faults = [f"there is no recipe for {name}" for name in CHECKS if name not in found]
    for name, text in found.items():
        taken, said = holds(name, text)
        if not taken:
            faults.append(f"{name} is not what its schema says:\n{said}")
        # The harness is worth something only if a recipe that is none is caught.
        broken = re.sub(r"^( *)(jobs|script|hooks):", r"\1\2s:", text, count=1, flags=re.M)
        if holds(name, broken)[0]:
            faults.append(f"{name}: a broken recipe is taken")
        if name != "pre-commit":
            if len(commands(name, text)) < 2:
                faults.append(f"{name}: its commands were not found")
            faults += tried(name, text)
    print("\n".join(faults + [f"{len(found)} recipes for hosts tried, {len(faults)} faults"]))
    return 1 if faults else 0


sys.exit(main(sys.argv[1]))
