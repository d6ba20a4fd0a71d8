"""Schema and reader on the same entries: argv is the program, its knowledge, and a directory to work in."""
import copy, glob, json, os, random, re, subprocess, sys
import jsonschema, yaml

program, base, work = sys.argv[1:]
MUTANTS, SEED = 200, 20


class Core(yaml.SafeLoader):
    """Plain scalars as the core schema of YAML 1.2, which editors use, reads them: yes and no are texts."""


Core.yaml_implicit_resolvers = {}
for tag, pattern, first in (
        ("bool", r"^(?:true|True|TRUE|false|False|FALSE)$", "tTfF"),
        ("int", r"^[-+]?[0-9]+$", "-+0123456789"),
        ("float", r"^[-+]?(?:\.[0-9]+|[0-9]+(?:\.[0-9]*)?)(?:[eE][-+]?[0-9]+)?$", "-+.0123456789"),
        ("null", r"^(?:~|null|Null|NULL|)$", ["~", "n", "N", ""])):
    Core.add_implicit_resolver("tag:yaml.org,2002:" + tag, re.compile(pattern), list(first))

number = failed = 0


def say(good, words):
    global number, failed
    number += 1
    failed += not good
    print(f"{'ok' if good else 'not ok'} {number + 1} - {words}")


schemas = {}
for name in ("names", "any"):
    schema = json.load(open(f"{work}/{name}.json"))
    jsonschema.Draft7Validator.check_schema(schema)
    schemas[name] = jsonschema.Draft7Validator(schema)
definitions = schemas["names"].schema["definitions"]


def refused_by_schema(entry, which="names"):
    return not schemas[which].is_valid([entry])


def refused_by_reader(entry):
    """Laid over the shipped knowledge; JSON is YAML."""
    os.makedirs(f"{work}/kb", exist_ok=True)
    with open(f"{work}/kb/broken.yaml", "w") as file:
        json.dump([entry], file)
    done = subprocess.run([program, "show", "path", "--kb", f"{work}/kb"], capture_output=True, text=True)
    if done.returncode < 0 or done.returncode >= 64:
        sys.exit(f"the program ended with {done.returncode}: {done.stderr}")
    return "error:" in done.stderr


def set_of(entry):
    """The definition an entry belongs to."""
    for reference in schemas["names"].schema["items"]["oneOf"]:
        name = reference["$ref"].rsplit("/", 1)[1]
        required = definitions[name]["required"]
        kind = definitions[name]["properties"].get("kind", {}).get("const")
        if all(key in entry for key in required) and set(entry) <= set(definitions[name]["properties"]) \
                and (kind is None or entry["kind"] == kind):
            return name
    return None


def replacing(entry):
    entry = copy.deepcopy(entry)
    entry["replaces"] = next(iter(entry.values()))
    return entry


# ---- the whole knowledge ----

files = sorted(glob.glob(f"{base}/rules/*.yaml") + glob.glob(f"{base}/kb/**/*.yaml", recursive=True))
corpus = [entry for name in files for entry in yaml.load(open(name), Core) or []]
for which in schemas:
    wrong = [entry for entry in corpus if refused_by_schema(entry, which)]
    for entry in wrong[:3]:
        print(f"# {entry}")
    say(corpus and not wrong, f"the schema ({which}) takes all {len(corpus)} entries of the knowledge")
by_set = {}
for entry in corpus:
    by_set.setdefault(set_of(entry), []).append(entry)
entry_sets = [reference["$ref"].rsplit("/", 1)[1] for reference in schemas["names"].schema["items"]["oneOf"]]
entry_sets.remove("format")
say(set(by_set) - {"format"} == set(entry_sets), f"the knowledge has an entry of each of {len(entry_sets)} sorts")

versions = [({"format": 1}, False), ({"format": 2}, True), ({"format": 0}, True), ({"format": "one"}, True),
            ({"format": 1, "title": "first"}, True)]
say(all(refused_by_schema(entry) == refused_by_reader(entry) == refused for entry, refused in versions),
    "schema and reader agree on versions of the format")

# ---- each key left out ----

# Left out, these break what other entries say, which the schema cannot see.
ELSEWHERE = {"also", "replaces", "values", "words"}
tried = 0
disagree = []
for name in entry_sets:
    fullest = max(by_set.get(name, []), key=len, default=None)
    if fullest is None:
        continue
    whole = replacing(fullest)
    if refused_by_reader(whole) or refused_by_schema(whole):
        disagree.append((name, "whole"))
    for key in list(whole)[1:]:
        if key in ELSEWHERE and key not in definitions[name]["required"]:
            continue
        less = {k: v for k, v in whole.items() if k != key}
        # Without `replaces`, or with another `kind`, it is refused for what lies beneath.
        if key in ("replaces",):
            continue
        tried += 1
        if refused_by_schema(less) != refused_by_reader(less):
            disagree.append((name, key))
say(not disagree and tried > 80, f"schema and reader agree on {tried} entries with a key left out {disagree or ''}")

# ---- broken entries ----

chance = random.Random(SEED)
NOT_READ = {"about", "replaces", "accept"}  # about of clubs, columns and windows is a remark


def conditions(node):
    """All mappings of one condition inside a condition."""
    found = [node]
    for key, value in node.items():
        if key in ("all", "any", "none"):
            for clause in value:
                found += conditions(clause)
    return found


def rename(mapping, old, new):
    pairs = [(new if key == old else key, value) for key, value in mapping.items()]
    mapping.clear()
    mapping.update(pairs)


def misspelt(word):
    i = chance.randrange(len(word))
    return word[:i] + "q" + word[i:] + "x"


def drop_required(entry, name):
    key = chance.choice(definitions[name]["required"][1:] or [None])
    if key is None:
        return False
    del entry[key]
    return True


def misspell_key(entry, name):
    key = chance.choice([key for key in entry if key != "replaces"])
    rename(entry, key, misspelt(key))
    return True


def wrong_shape(entry, name):
    keys = [key for key in list(entry)[1:] if key not in NOT_READ]
    entry[chance.choice(keys)] = chance.choice([{"no_such": ["x"]}, [["x"]]])
    return True


def wrong_word(entry, name):
    keys = [key for key in entry if "enum" in definitions[name]["properties"][key] or key == "kind"]
    if not keys:
        return False
    key = chance.choice(keys)
    entry[key] = misspelt(entry[key])
    return True


def wrong_word_within(entry, name):
    """The word of a choice in a condition or a case; a strength."""
    places = []
    for key in ("when", "needs"):
        for condition in conditions(entry[key]) if key in entry else []:
            for evidence, value in condition.items():
                if isinstance(value, str) and evidence != "formula":
                    places.append((condition, evidence))
                elif isinstance(value, dict):
                    places += [(value, k) for k in value if k in ("is", "known")]
                    if isinstance(value.get("one_of"), list):
                        places.append((value["one_of"], 0))
    if name == "case":
        places += [(entry["evidence"], k) for k in entry["evidence"] if f"word_of_{k}" in definitions]
    if name == "rule":
        places += [(entry["then"], k) for k, v in entry.get("then", {}).items() if isinstance(v, str)]
    places = [(at, key) for at, key in places if isinstance(at[key], str)]
    if not places:
        return False
    at, key = chance.choice(places)
    at[key] = misspelt(at[key])
    return True


def unknown_name(entry, name):
    places = [(entry, key, "value") for key in ("source", "both_ways") if key in entry and name != "source"]
    for key in ("then", "changes", "means", "denied", "when_both", "scatter") + (("evidence",) if name == "case" else ()):
        if isinstance(entry.get(key), dict):
            places += [(entry[key], k, "key") for k in entry[key]]
    for key in ("removes",):
        places += [(entry[key], i, "value") for i in range(len(entry.get(key, [])))]
    for key, value in entry.get("expect", {}).items():
        places += [(value, i, "value") for i in range(len(value))] if isinstance(value, list) \
            else [(entry["expect"], key, "value")]
    for key in ("when", "needs"):
        for condition in conditions(entry[key]) if key in entry else []:
            places += [(condition, k, "key") for k in condition]
    if name == "drill":
        places += [(entry["works"], k, "key") for k in entry["works"] if k not in ("hits", "of", "seen")]
    if name == "column" and "means" in entry:
        places.append((entry, "means", "value"))
    if not places:
        return False
    at, key, what = chance.choice(places)
    if what == "key":
        rename(at, key, misspelt(key))
    else:
        at[key] = misspelt(at[key])
    return True


def misspell_within(entry, name):
    """A key of a mapping inside: a comparison, drop, works, expect, objects, sorting, flights, accept."""
    places = [entry[key] for key in ("drop", "expect", "start", "curve", "finish", "flights") if key in entry]
    places += entry.get("objects", [])
    for key in ("when", "needs"):
        for condition in conditions(entry[key]) if key in entry else []:
            places += [value for value in condition.values() if isinstance(value, dict)]
    if not places:
        return False
    at = chance.choice(places)
    key = chance.choice(list(at))
    rename(at, key, misspelt(key))
    return True


def wrong_number(entry, name):
    places = []
    if name == "drill":
        places += [(entry["changes"], k, 1.5) for k in entry["changes"]]
        places += [(entry["works"], "hits", 0), (entry["drop"], "shots", 0.5), (entry, "cautions", [])]
    if name == "rule" and entry.get("then"):
        places += [(entry["then"], next(iter(entry["then"])), chance.choice([0.97, -1, 0]))]
    if name == "evidence_number":
        places += [(entry, "decimals", 9), (entry, "range", [0]), (entry, "error", -1), (entry, "sides", ["left"])]
    if name == "phrase_means":
        places += [(entry, "sure", 2), (entry, "sure", 0)]
    if name == "case":
        places += [(entry, "shots", 0), (entry, "shots", 2.5)]
    if not places:
        return False
    at, key, value = chance.choice(places)
    at[key] = value
    return True


mutators = (drop_required, misspell_key, wrong_shape, wrong_word, wrong_word_within, unknown_name, misspell_within,
            wrong_number)
counts = dict.fromkeys((mutator.__name__ for mutator in mutators), 0)
missed = {"schema": [], "reader": []}
while sum(counts.values()) < MUTANTS:
    mutator = mutators[sum(counts.values()) % len(mutators)]
    name = chance.choice(entry_sets)
    entry = replacing(chance.choice(by_set[name]))
    if not mutator(entry, name):
        continue
    counts[mutator.__name__] += 1
    if not refused_by_schema(entry):
        missed["schema"].append((mutator.__name__, entry))
    if not refused_by_reader(entry):
        missed["reader"].append((mutator.__name__, entry))
for who, entries in missed.items():
    for mutator, entry in entries[:8]:
        print(f"# the {who} takes, after {mutator}: {json.dumps(entry)[:1500]}")
    say(not entries, f"the {who} refuses all {MUTANTS} broken entries")
print("# " + ", ".join(f"{name} {n}" for name, n in counts.items()))
sys.exit(failed > 0)
