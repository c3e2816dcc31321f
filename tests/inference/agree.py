#!/usr/bin/env python3
"""Holds the engine of exact inference against a general-purpose library.

    python3 tests/inference/agree.py

Makes a virtual environment of its own under target/, installs pyAgrum in it (from the package registry), builds
textbook and random networks with it, asks both the library and `cargo run -p evidence --example posteriors` the same
questions, and prints the largest difference. Exits 1 when one is above 1e-6, 2 when something could not be run.
Networks from files differ by some 1e-8: the library keeps what it reads in single precision, so that rows do not quite
sum to 1, and our engine closes them.
"""

import json
import os
import random
import subprocess
import sys
import venv
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]
LIBRARY = "pyAgrum==3.3.1"
LIMIT = 1e-6
SEED = 20250611


def enter_environment():
    """Runs this script again inside the virtual environment, which is made first if need be."""
    home = Path(os.environ.get("CARGO_TARGET_DIR", ROOT / "target")) / "inference-venv"
    python = home / "bin" / "python"
    if Path(sys.prefix) == home.resolve() or os.environ.get("AGREE_INSIDE"):
        return
    if not python.exists():
        venv.create(home, with_pip=True)
    subprocess.run([python, "-m", "pip", "install", "--quiet", LIBRARY], check=True)
    os.environ["AGREE_INSIDE"] = "1"
    os.execv(python, [str(python), __file__])


def from_file(gum, name):
    """A textbook network, read by the library."""
    return gum.loadBN(str(ROOT / "published" / "data" / f"{name}.bif"))


def at_random(gum, draw, count, most_states, most_parents, zeros):
    """A network of `count` variables with random parents and tables; the share `zeros` of the figures is zero."""
    network = gum.BayesNet()
    for at in range(count):
        states = draw.randint(2, most_states)
        network.add(gum.LabelizedVariable(f"v{at}", "", [f"s{state}" for state in range(states)]))
        parents = draw.sample(range(at), min(at, draw.randint(0, most_parents)))
        for parent in parents:
            network.addArc(f"v{parent}", f"v{at}")
    for at in range(count):
        table = network.cpt(f"v{at}")
        row = gum.Instantiation(table)
        own = network.variable(f"v{at}")
        others = gum.Instantiation()
        for parent in table.names[1:]:
            others.add(network.variable(parent))
        others.setFirst()
        while True:
            weights = [0.0 if draw.random() < zeros else draw.random() for _ in range(own.domainSize())]
            weights[draw.randrange(len(weights))] += 0.1
            for state, weight in enumerate(weights):
                row.setVals(others)
                row.chgVal(f"v{at}", state)
                table.set(row, weight / sum(weights))
            if not others.nbrDim():
                break
            others.inc()
            if others.end():
                break
    return network


def described(gum, network):
    """The network as our engine wants it: parents first, rows by the parents' states, the last fastest."""
    order = [network.variable(node).name() for node in network.topologicalOrder()]
    variables = []
    for name in order:
        table = network.cpt(name)
        parents = list(table.names[1:])
        place = gum.Instantiation(table)
        figures = []

        def rows(left):
            if left:
                for state in range(network.variable(left[0]).domainSize()):
                    place.chgVal(left[0], state)
                    rows(left[1:])
            else:
                for state in range(network.variable(name).domainSize()):
                    place.chgVal(name, state)
                    figures.append(table.get(place))

        rows(parents)
        variables.append(
            {
                "name": name,
                "states": list(network.variable(name).labels()),
                "parents": [order.index(parent) for parent in parents],
                "table": figures,
            }
        )
    return variables


def questions_to(draw, variables, count):
    questions = []
    for _ in range(count):
        seen = draw.sample(range(len(variables)), draw.randint(0, min(6, len(variables) - 1)))
        evidence = [[at, draw.randrange(len(variables[at]["states"]))] for at in seen]
        target = draw.choice([at for at in range(len(variables)) if at not in seen])
        questions.append({"evidence": evidence, "target": target})
    return questions


def theirs(gum, network, variables, question):
    """The library's posterior and probability of the evidence; no posterior for evidence that is impossible.

    The library answers without complaint when the impossible part of the evidence has no bearing on the target; its
    probability of the evidence tells.
    """
    inference = gum.LazyPropagation(network)
    inference.setEvidence({variables[at]["name"]: state for at, state in question["evidence"]})
    name = variables[question["target"]]["name"]
    try:
        inference.addTarget(name)
        inference.makeInference()
        probability = inference.evidenceProbability() if question["evidence"] else 1.0
        posterior = inference.posterior(name).tolist()
        return (posterior if probability > 0.0 else None), probability
    except gum.IncompatibleEvidence:
        return None, 0.0


def noisy_cases(gum, draw):
    """Leaky noisy-OR tables as the library builds them: P(no), P(yes), rows by the causes, the last fastest."""
    cases, tables = [], []
    for count in range(1, 6):
        leak, p = draw.random() * 0.2, [draw.random() for _ in range(count)]
        network = gum.BayesNet()
        network.addNoisyORNet(gum.LabelizedVariable("child", "", 2), leak)
        for at, weight in enumerate(p):
            network.add(gum.LabelizedVariable(f"c{at}", "", 2))
            network.addWeightedArc(f"c{at}", "child", weight)
        place = gum.Instantiation(network.cpt("child"))
        table = []
        for row in range(2**count):
            for at in range(count):
                place.chgVal(f"c{at}", row >> (count - 1 - at) & 1)
            for state in range(2):
                place.chgVal("child", state)
                table.append(network.cpt("child").get(place))
        cases.append({"leak": leak, "p": p})
        tables.append(table)
    return cases, tables


def ours(asked):
    command = ["cargo", "run", "--quiet", "-p", "evidence", "--example", "posteriors"]
    answer = subprocess.run(command, cwd=ROOT, input=json.dumps(asked), text=True, capture_output=True)
    if answer.returncode != 0:
        print(f"our side could not be run:\n{answer.stderr}", file=sys.stderr)
        sys.exit(2)
    return json.loads(answer.stdout)


def main():
    enter_environment()
    import pyagrum as gum

    draw = random.Random(SEED)
    networks = [(name, from_file(gum, name), 60) for name in ("asia", "earthquake", "alarm")]
    for at in range(40):
        networks.append((f"random {at}", at_random(gum, draw, draw.randint(3, 12), 4, 3, 0.15), 12))
    networks.append(("random, 30 variables", at_random(gum, draw, 30, 5, 2, 0.0), 40))
    asked = []
    for name, network, count in networks:
        variables = described(gum, network)
        asked.append({"name": name, "variables": variables, "questions": questions_to(draw, variables, count)})
    cases, tables = noisy_cases(gum, draw)
    answered = ours({"networks": asked, "noisy": cases})

    worst, wrong, total, impossible = 0.0, [], 0, 0
    for (name, network, _), one, answers in zip(networks, asked, answered["networks"], strict=True):
        largest = 0.0
        for question, answer in zip(one["questions"], answers["answers"], strict=True):
            posterior, probability = theirs(gum, network, one["variables"], question)
            total += 1
            difference = abs(answer["probability"] - probability)
            if (posterior is None) != ("refused" in answer):
                which = "our engine" if posterior else "the library"
                chances = f"probability {answer['probability']} against {probability}"
                wrong.append(f"{name}: only {which} finds {question['evidence']} impossible, {chances}")
                continue
            if posterior is None:
                impossible += 1
            else:
                pairs = zip(answer["posterior"], posterior, strict=True)
                difference = max([difference, *(abs(a - b) for a, b in pairs)])
            largest = max(largest, difference)
            if not difference <= LIMIT:
                wrong.append(f"{name}: {question} differs by {difference:.3g}")
        if not name.startswith("random ") or largest > LIMIT:
            print(f"{name}: {len(one['questions'])} questions, largest difference {largest:.2g}")
        worst = max(worst, largest)
    for case, mine, table in zip(cases, answered["noisy"], tables, strict=True):
        difference = max(abs(a - b) for a, b in zip(mine, table, strict=True))
        worst = max(worst, difference)
        if not difference <= LIMIT:
            wrong.append(f"noisy-OR {case} differs by {difference:.3g}")
    print(f"{len(networks)} networks, {total} questions ({impossible} impossible), {len(cases)} noisy-OR tables")
    print(f"largest difference {worst:.2g}, accepted {LIMIT:.0e}")
    for line in wrong:
        print(line, file=sys.stderr)
    sys.exit(1 if wrong else 0)


if __name__ == "__main__":
    main()
