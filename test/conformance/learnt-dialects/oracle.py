"""Reads back what `build` made with a learnt dialect, by the truth beside the corpus. It shares nothing with src: no reader, no
codec, no numbering. From memory and the sources named: Linux's joydev.c and SDL's Linux joystick driver for the ranks of
buttons and axes, the W3C's "standard gamepad", linux/input-event-codes.h for the names of codes.

Reads a JSON list of requests on standard input, prints a JSON list of answers. A request:
  truth      the dialect that is the truth, as data
  house      what the house sets, as data, by group and name
  device     {"capture": text} or {"codes": [names]}; {"labels": {position: label}}, {"id", "name"}
  mounts     where each part of the card is mounted on the device
  own        the frontend's own files as copied, by path from its root, base64: what kind of value stands where
  before     what stood there before the build, in the same way; may be empty
  after      the files that the build made
Answer: {"settings": [{"setting", "system": one or null, "verdict": "right" | "wrong" | "untouched", "says"}], "others": ["FILE KEY", ...]}
  untouched  the keys are as they were before the build, and do not say what the house says
  others     keys that the build changed, and that belong to no setting that the house sets
"""
import base64, io, itertools, json, re, sys, tomllib
import xml.etree.ElementTree as tree
import yaml

# ------------------------------------------------------------------------------------------------ readers


class Text(str):
    """A scalar with the kind of value that its format tells: s, n (number), b, or - where the format has texts alone."""

    kind = "-"


def text(value, kind):
    made = Text(value)
    made.kind = kind
    return made


def typed(value):
    if isinstance(value, bool):
        return text("true" if value else "false", "b")
    if isinstance(value, (int, float)):
        return text(repr(value), "n")
    return text(str(value), "s")


def nested(value, path, leaves):
    """Leaves by path; a list of scalars is one leaf, a list of anything else is walked."""
    if isinstance(value, dict):
        for name, item in value.items():
            nested(item, path + (str(name),), leaves)
    elif isinstance(value, list) and all(not isinstance(item, (dict, list)) for item in value):
        leaves[path] = [typed(item) for item in value]
    elif isinstance(value, list):
        for index, item in enumerate(value):
            nested(item, path + (f"[{index}]",), leaves)
    else:
        leaves[path] = typed(value)


def read_json(content, style):
    if style.get("relaxed"):
        content = re.sub(r"^\s*//.*$", "", content, flags=re.M)
    leaves = {}
    nested(json.loads(content), (), leaves)
    return leaves, lambda key: tuple(step.replace("~1", "/").replace("~0", "~") for step in key.split("/")[1:])


def dotted(key):
    return tuple(key.split("."))


def read_toml(content, _style):
    leaves = {}
    nested(tomllib.loads(content), (), leaves)
    return leaves, dotted


def read_yaml(content, _style):
    # Every scalar as it is written: what it would be in YAML 1.1 or 1.2 is not asked.
    leaves = {}
    nested(yaml.load(content, Loader=yaml.BaseLoader) or {}, (), leaves)
    for path, value in leaves.items():
        leaves[path] = [text(item, "-") for item in value] if isinstance(value, list) else text(value, "-")
    return leaves, dotted


def unquoted(value):
    return value[1:-1] if len(value) > 1 and value[0] == value[-1] and value[0] in "\"'" else value


def read_keyed(content, style, sectioned):
    separator = (style.get("separator") or "=").strip()
    marks = style.get("comment", ["#", ";"])
    marks = marks if isinstance(marks, list) else [marks]
    leaves, section = {}, ""
    for line in content.splitlines():
        line = line.strip()
        if line == "" or any(line.startswith(mark) for mark in marks):
            continue
        if sectioned and line.startswith("[") and line.endswith("]"):
            section = line + " "
            continue
        parts = re.split(re.escape(separator) if separator else r"\s+", line, maxsplit=1)
        if len(parts) < 2:
            continue
        key = section + parts[0].strip()
        if key in leaves and style.get("duplicates") == "first":
            continue
        leaves[key] = text(unquoted(parts[1].strip()), "-")
    return leaves, lambda key: key


def read_ini(content, style):
    return read_keyed(content, style, True)


def read_pairs(content, style):
    return read_keyed(content, style, False)


def read_lines(content, style):
    marks = style.get("comment", [])
    marks = marks if isinstance(marks, list) else [marks]
    leaves = {}
    for line in content.splitlines():
        if line.strip() == "" or any(line.startswith(mark) for mark in marks):
            continue
        key, found, value = line.partition(style["separator"])
        if found:
            leaves[key] = text(value, "-")
    return leaves, lambda key: key


def read_properties(content, _style):
    leaves = {}
    joined = re.sub(r"(?<!\\)((?:\\\\)*)\\\r?\n[ \t\f]*", r"\1", content)

    def plain(part):
        part = re.sub(r"\\u([0-9a-fA-F]{4})", lambda found: chr(int(found[1], 16)), part)
        return re.sub(r"\\(.)", lambda found: {"t": "\t", "n": "\n", "r": "\r", "f": "\f"}.get(found[1], found[1]), part)

    for line in joined.splitlines():
        line = line.lstrip(" \t\f")
        if line == "" or line[0] in "#!":
            continue
        found = re.match(r"((?:\\.|[^\\=: \t\f])*)[ \t\f]*[=:]?[ \t\f]*(.*)$", line)
        leaves[plain(found[1])] = text(plain(found[2]), "-")
    return leaves, lambda key: key


def read_xml(content, _style):
    root = tree.parse(io.BytesIO(content.encode())).getroot()
    leaves, names = {}, {}

    def walk(element, path):
        names[element] = path
        for name, value in element.attrib.items():
            leaves[path + "/@" + name] = text(value, "-")
        if len(element) == 0 and (element.text or not element.attrib):
            leaves[path] = text((element.text or "").strip(), "-")
        for index, child in enumerate(element):
            walk(child, f"{path}/{child.tag}({index})")

    walk(root, "/" + root.tag)

    def place(key):
        steps, _, attribute = key.partition("/@")
        first, _, below = steps[1:].partition("/")
        if first != root.tag:
            return None
        element = root if below == "" else root.find("./" + below)
        if element is None:
            return None
        return names[element] + ("/@" + attribute if attribute else "")

    return leaves, place


READERS = {
    "json": read_json,
    "toml": read_toml,
    "yaml": read_yaml,
    "ini": read_ini,
    "pairs": read_pairs,
    "lines": read_lines,
    "properties": read_properties,
    "xml": read_xml,
}


class Folder:
    """A folder of the frontend's files, read by what the truth says of them."""

    def __init__(self, truth, files):
        self.files, self.read = truth["files"], {}
        for path, content in files.items():
            self.read[path] = self.leaves(path, base64.b64decode(content).decode("utf-8"))

    def leaves(self, path, content):
        for file in self.files.values():
            pattern = re.escape(file["path"].removeprefix("{{root}}/")).replace(re.escape("{{system.folder}}"), "[^/]+")
            if re.fullmatch(pattern, path):
                return READERS[file["syntax"]](content, file.get("style", {}))
        return {}, lambda key: key

    def get(self, path, key):
        leaves, place = self.read.get(path, ({}, lambda _key: None))
        return leaves.get(place(key))


# ------------------------------------------------------------------------------------------------ controls

CODES = {
    name: number
    for number, names in {
        **{0x120 + at: [name] for at, name in enumerate("TRIGGER THUMB THUMB2 TOP TOP2 PINKIE BASE BASE2 BASE3 BASE4 BASE5 BASE6".split())},
        **{0x130 + at: [name] for at, name in enumerate("SOUTH EAST C NORTH WEST Z TL TR TL2 TR2 SELECT START MODE THUMBL THUMBR".split())},
        **{0x2C0 + at: [f"TRIGGER_HAPPY{at + 1}"] for at in range(16)},
        **{0x220 + at: [name] for at, name in enumerate("DPAD_UP DPAD_DOWN DPAD_LEFT DPAD_RIGHT".split())},
    }.items()
    for name in ["BTN_" + one for one in names]
} | {"KEY_VOLUMEDOWN": 114, "KEY_VOLUMEUP": 115, "KEY_POWER": 116}
AXES = {
    "ABS_" + name: number
    for number, name in {0: "X", 1: "Y", 2: "Z", 3: "RX", 4: "RY", 5: "RZ", 9: "GAS", 10: "BRAKE", 16: "HAT0X", 17: "HAT0Y"}.items()
}
# Where a control is looked for that nobody pressed: Documentation/input/gamepad.rst, and common practice for the triggers.
USUAL = {
    "south": ["BTN_SOUTH"], "east": ["BTN_EAST"], "west": ["BTN_WEST"], "north": ["BTN_NORTH"],
    "dpad-up": ["BTN_DPAD_UP", "ABS_HAT0Y-"], "dpad-down": ["BTN_DPAD_DOWN", "ABS_HAT0Y+"],
    "dpad-left": ["BTN_DPAD_LEFT", "ABS_HAT0X-"], "dpad-right": ["BTN_DPAD_RIGHT", "ABS_HAT0X+"],
    "shoulder-left": ["BTN_TL"], "shoulder-right": ["BTN_TR"],
    "trigger-left": ["BTN_TL2", "ABS_Z+"], "trigger-right": ["BTN_TR2", "ABS_RZ+"],
    "select": ["BTN_SELECT"], "start": ["BTN_START"], "mode": ["BTN_MODE"],
    "thumb-left": ["BTN_THUMBL"], "thumb-right": ["BTN_THUMBR"],
}  # fmt: skip
STANDARD = "south east west north shoulder-left shoulder-right trigger-left trigger-right select start thumb-left thumb-right dpad-up dpad-down dpad-left dpad-right mode".split()


class Device:
    def __init__(self, device):
        self.labels, self.id, self.name = device["labels"], device["id"], device["name"]
        if "capture" in device:
            self.of_capture(device["capture"])
        else:
            codes = device["codes"]
            self.keys = sorted(CODES[name] for name in codes if name in CODES)
            self.axes = sorted(AXES[name] for name in codes if name in AXES)
            self.sent = {}
            for position, usual in USUAL.items():
                found = [name for name in usual if name.rstrip("+-") in codes]
                if found:
                    self.sent[position] = [(found[0].rstrip("+-"), found[0][-1] if found[0][-1] in "+-" else "")]

    def of_capture(self, capture):
        word = int(re.search(r"^word-size: (\d+)", capture, re.M)[1])

        def bits(line):
            words = [int(one, 16) for one in line.split()]
            words.reverse()
            return [at * word + bit for at, one in enumerate(words) for bit in range(word) if one >> bit & 1]

        self.keys, self.axes = [], []
        for one in re.split(r"\n\n", capture.split("== press-test")[0]):
            keys = [bit for line in re.findall(r"^B: KEY=(.*)$", one, re.M) for bit in bits(line)]
            if any(0x100 <= bit < 0x300 for bit in keys):
                self.keys = keys
                self.axes = [bit for line in re.findall(r"^B: ABS=(.*)$", one, re.M) for bit in bits(line)]
        pressed = []
        for line in re.findall(r"^([0-9a-f]{32,48})(?: |$)", capture.split("== events", 1)[1], re.M):
            raw = bytes.fromhex(line)
            wide = word // 8
            time = [int.from_bytes(raw[at * wide : (at + 1) * wide], "little") for at in (0, 1)]
            kind, code = (int.from_bytes(raw[2 * wide + at : 2 * wide + at + 2], "little") for at in (0, 2))
            value = int.from_bytes(raw[-4:], "little", signed=True)
            if kind in (1, 3) and value != 0:
                pressed.append((time, kind, code, value))
        pressed.sort()
        order = [line for line in re.search(r"^== press-test\n((?:[a-z-]+\n)+)", capture, re.M)[1].splitlines()]
        named = {number: name for name, number in CODES.items()}, {number: name for name, number in AXES.items()}
        self.sent = {}
        # What comes in one second is one press: a control may send a button and an axis.
        presses = [list(group) for _, group in itertools.groupby(pressed, key=lambda event: event[0][0])]
        for position, press in zip(order, presses, strict=True):
            self.sent[position] = [
                (named[0][code], "") if kind == 1 else (named[1][code], "+" if value > 0 else "-") for _, kind, code, value in press
            ]

    def names(self, position, order):
        """What the templates may hold for a control, by each form that it has in this numbering."""
        kind = order if isinstance(order, str) else order["order"]
        base = {"position": position, "device.id": self.id, "device.name": self.name}
        if position in self.labels:
            base["label"] = self.labels[position]
        if kind == "table":
            word = order["table"].get(position)
            return [] if word is None else [("text", base | {"value": word, "index": word})]
        if kind == "position":
            return [("text", base | {"value": position})]
        if kind == "w3c":
            return [("button", base | {"index": str(STANDARD.index(position))})] if position in STANDARD else []
        return [self.form(kind, code, side, base) for code, side in self.sent.get(position, [])]

    def form(self, kind, code, side, base):
        number = CODES.get(code, AXES.get(code))
        base = base | {"code": str(number), "name": code} | ({"side": side} if side else {})
        if kind in ("name", "code"):
            return "text", base | {"value": code if kind == "name" else str(number)}
        # Both count buttons from BTN_JOYSTICK upwards first; hats are axes to the kernel, and none to SDL.
        if code in CODES:
            ranked = [one for one in self.keys if one >= 0x120] + [one for one in self.keys if one < 0x120]
            return "button", base | {"index": str(ranked.index(number))}
        if kind == "sdl" and 0x10 <= number <= 0x17:
            direction = {(0, "-"): "left", (0, "+"): "right", (1, "-"): "up", (1, "+"): "down"}[number % 2, side]
            return "hat", base | {"hat": str((number - 0x10) // 2), "direction": direction}
        ranked = [one for one in self.axes if kind != "sdl" or not 0x10 <= one <= 0x17]
        return "axis", base | {"axis": str(ranked.index(number)), "side": side}


def filled(template, names):
    """None where the control has no such name."""
    try:
        return re.sub(r"\{\{([^}]+)\}\}", lambda found: names[found[1]], template)
    except KeyError:
        return None


def spelled(controls, own, device, position):
    """Every form and text of a control there; none where the frontend cannot say it on this device."""
    found = []
    for form, names in device.names(position, controls.get("numbering", "position")):
        kind = "button" if form == "text" else form
        template = own.get(kind, controls.get(kind, "{{value}}" if form == "text" else None))
        made = None if template is None else filled(template, names)
        if made is not None:
            found.append((form, made))
    return found


# ------------------------------------------------------------------------------------------------ values

UNITS = {
    "ms": 1, "s": 1000, "min": 60000, "h": 3600000, "us": 0.001,
    "B": 1, "kB": 1e3, "KiB": 1024, "MB": 1e6, "MiB": 1 << 20, "GB": 1e9, "GiB": 1 << 30,
    "x": 1, "": 1, "/day": 1, "/ day": 1,
}  # fmt: skip


def amount(written):
    number, unit = re.fullmatch(r"([0-9.]+) ?(.*)", str(written)).groups()
    return float(number) * (1 if unit == "%" else UNITS[unit])


def says_number(codec, wanted, held):
    words = {word: str(spelling) for word, spelling in codec.get("words", {}).items()}
    if str(wanted) in words:
        return held == words[str(wanted)]
    if held in words.values() or re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", held) is None:
        return False
    unit = codec.get("unit", "")
    factor = 1000 / codec["rate"] if unit == "frames" else 0.01 if unit == "%" and str(wanted).endswith("x") else 1 if unit == "%" else UNITS[unit]
    due = amount(wanted) / factor * codec.get("scale", 1) + codec.get("offset", 0)
    decimals = codec.get("decimals")
    step = codec.get("step", 1 if decimals is None else 10**-decimals)
    number = float(held)
    if decimals is not None and len(held.partition(".")[2]) > decimals:
        return False
    if step == 0:
        return abs(number - due) <= 1e-9
    # The nearest that the frontend takes: on its steps, and no number that is a word there.
    taken = [float(word) for word in words.values() if re.fullmatch(r"-?[0-9]+(\.[0-9]+)?", word)]
    steps = [(round(due / step) + away) * step for away in range(-3, 4)]
    least = min(abs(one - due) for one in steps if one not in taken)
    return abs(number / step - round(number / step)) < 1e-6 and abs(number - due) <= least + 1e-9


def says_plain(entry, wanted, held):
    if held is None:
        return False
    word = {True: "true", False: "false"}.get(wanted, wanted) if isinstance(wanted, bool) else wanted
    if "values" in entry:
        spellings = entry["values"].get(str(word), [])
        return str(held) in [str(one) for one in (spellings if isinstance(spellings, list) else [spellings])]
    if "number" in entry:
        return says_number(entry["number"], wanted, str(held))
    if "text" in entry:
        secret = re.fullmatch(r"secret:(.*)", str(word))
        return str(held) == entry["text"].replace("{{value}}", f"<secret:{secret[1]}>" if secret else str(word))
    if "list" in entry:
        codec = entry["list"]
        due = [str(codec.get("values", {}).get(one, one)) for one in wanted]
        if "separator" in codec:
            return isinstance(held, str) and sorted(held.split(codec["separator"])) == sorted(due)
        return isinstance(held, list) and sorted(str(one) for one in held) == sorted(due)
    raise ValueError(f"The oracle knows no codec of {sorted(entry)}.")


class Oracle:
    def __init__(self, request):
        self.truth, self.house = request["truth"], request["house"]
        self.device = Device(request["device"])
        self.own, self.before, self.after = (Folder(self.truth, request[name]) for name in ("own", "before", "after"))
        self.controls = self.truth.get("controls", {})
        self.hold = self.house["hotkeys"]["hold"]
        self.mounts = request["mounts"]

    def set_by(self, values, setting):
        value = values
        for step in setting.split("."):
            value = value.get(step) if isinstance(value, dict) else None
        return value

    def spellings(self, entry, system):
        """File and spelling of a setting, for the whole instance or for one system; folders of systems have their names."""
        for one in entry if isinstance(entry, list) else [entry]:
            for write in one.get("writes", [one]):
                file = write.get("file")
                if isinstance(file, dict):
                    file = file.get("instance" if system is None else "system")
                elif system is not None:
                    file = None
                if file is not None:
                    path = self.truth["files"][file]["path"].removeprefix("{{root}}/")
                    if system is not None:
                        path = path.replace("{{system.folder}}", system)
                        write = json.loads(json.dumps(write).replace("{{system.folder}}", system))
                    yield path, write

    def keys(self, entry):
        if "members" in entry:
            return list(entry["members"]["keys"].values())
        found, todo = [], [entry["key"]]
        while todo:
            one = todo.pop()
            if isinstance(one, dict):
                todo.extend(one.values())
            else:
                found.append(one)
        return found

    def kinds_kept(self, file, key, held):
        """A number where the frontend itself has a number: a reader that is typed would refuse anything else."""
        own = self.own.get(file, key)
        kind = lambda value: "l" if isinstance(value, list) else value.kind
        return own is None or held is None or kind(own) == kind(held)

    def says(self, file, entry, wanted):
        if "members" in entry:
            codec = entry["members"]
            return all(
                str(self.after.get(file, key)) == str(codec.get("on", "true") if word in wanted else codec.get("off", "false"))
                for word, key in codec["keys"].items()
            )
        if "control" in entry or "chord" in entry:
            return self.says_control(file, entry, wanted)
        held = self.after.get(file, entry["key"])
        if "path" in entry:
            part, _, below = str(wanted).partition(":")
            due = f"{self.mounts[part].rstrip('/')}/{below}".rstrip("/") or "/"
            return held == (due + "/" if entry["path"].get("trailing") else due)
        return says_plain(entry, wanted, held) and self.kinds_kept(file, entry["key"], held)

    def says_control(self, file, entry, wanted):
        own = entry.get("control", entry.get("chord"))
        manner, wishes = None, wanted
        if isinstance(wanted, dict):
            manner, wishes = wanted.get("while"), wanted["control"]
        nothing = own.get("nothing", self.controls.get("nothing"))
        held = {key: self.after.get(file, key) for key in self.keys(entry)}
        # A key that never stood there is in no use either.
        unused = lambda key: (
            held[key] == str(nothing) if held[key] is not None else nothing is None or self.before.get(file, key) is None
        )
        if wishes == "none":
            return all(unused(key) and (nothing is None or held[key] is not None) for key in held)
        for position in wishes if isinstance(wishes, list) else [wishes]:
            for form, due in spelled(self.controls, own, self.device, position):
                key = entry["key"]
                while isinstance(key, dict):
                    kind = form if form in key else "button"
                    key = key.get(manner) if manner in key else key.get(kind, key.get("held"))
                others = [other for other in held if other != key]
                if key is not None and self.chord(entry, due, held[key]) and all(unused(other) for other in others):
                    return True
        return False

    def chord(self, entry, due, held):
        if held is None:
            return False
        bind = entry["setting"].startswith("hotkeys.bind.")
        if self.controls.get("hold") != "each" or not bind:
            return held == due
        written = {**self.controls.get("chord", {}), **entry.get("chord", {})}
        holds = [text for _, text in spelled(self.controls, {}, self.device, self.hold)]
        pairs = [[due, hold] if written.get("order") == "hold-last" else [hold, due] for hold in holds]
        return [str(one) for one in held] in pairs if "join" not in written else held in [written["join"].join(pair) for pair in pairs]

    def answer(self):
        settings, ours = [], set()
        blocks = [(None, self.house)] + [(block["for"]["system"], block) for block in self.house.get("only", [])]
        for (system, values), (setting, entry) in itertools.product(blocks, self.truth["settings"].items()):
            wanted = self.set_by(values, setting)
            writes = [(path, {**one, "setting": setting}) for path, one in self.spellings(entry, system)]
            if wanted is None or writes == []:
                continue
            keys = [(path, key) for path, one in writes for key in self.keys(one)]
            ours.update(keys)
            right = all(self.says(path, one, wanted) for path, one in writes)
            if system is not None and all(self.after.get(path, key) is None for path, key in keys):
                # What a system's own file leaves out is as for all.
                wholes = [(path, {**one, "setting": setting}) for path, one in self.spellings(entry, None)]
                right = wholes != [] and all(self.says(path, one, wanted) for path, one in wholes)
            same = all(self.after.get(path, key) == self.before.get(path, key) for path, key in keys)
            says = {f"{path} {key}": self.after.get(path, key) for path, key in keys}
            verdict = "right" if right else "untouched" if same else "wrong"
            settings.append({"setting": setting, "system": system, "verdict": verdict, "says": says})
        return {"settings": settings, "others": self.others(ours)}

    def others(self, ours):
        found = []
        for path, (leaves, place) in self.after.read.items():
            mine = {place(key) for file, key in ours if file == path}
            before = self.before.read.get(path, ({}, None))[0]
            # Attributes by which a new element is found again, and new elements that hold nothing but attributes.
            tests = {"/@" + name for file, key in ours if file == path for name in re.findall(r"\[@([^=]+)=", key)}
            for leaf in leaves.keys() | before.keys():
                if leaf not in before and isinstance(leaf, str) and any(leaf.endswith(test) for test in tests):
                    continue
                if leaf not in mine and leaves.get(leaf) != before.get(leaf):
                    found.append(f"{path} {leaf if isinstance(leaf, str) else '.'.join(leaf)}")
        return sorted(found)


print(json.dumps([Oracle(request).answer() for request in json.load(sys.stdin)]))
