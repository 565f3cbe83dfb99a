"""Writes hid/descriptors and hid/usages: report descriptors, what two open libraries find in them,
and reports taken apart.

Offsets and sizes are those of hid-parser and hid-tools, which must agree here; values, usages and
ranges are those of hid-tools alone. (hid-parser 0.1.0 does not put signs back, reverses bits of
arrays and misreads fields that do not begin at a byte: nothing else is taken from it.)
"""
import contextlib
import io
import re
import warnings
from pathlib import Path

import hid_parser
import hidtools
from common import uniforms, write
from hidtools.hid import ReportDescriptor

# Items of HID 1.11, 6.2.2: what they are called here, and their first byte without the size.
TAGS = {
    "page": 0x04, "logical_min": 0x14, "logical_max": 0x24, "physical_min": 0x34,
    "physical_max": 0x44, "exponent": 0x54, "unit": 0x64, "size": 0x74, "id": 0x84, "count": 0x94,
    "push": 0xA4, "pop": 0xB4, "usage": 0x08, "usage_min": 0x18, "usage_max": 0x28,
    "input": 0x80, "output": 0x90, "feature": 0xB0, "collection": 0xA0, "end": 0xC0,
}  # fmt: skip
# Of greatest values below 0 there is none here: hid-tools reads them without their sign.
SIGNED = {"logical_min", "physical_min"}


def items(text):
    """Bytes of lines such as `page 01; usage 30`: numbers are decimal, hexadecimal after 0x, and
    take as few bytes as they can, or so many as stand behind a colon."""
    out, signed_max = [], False
    for line in re.split(r"[;\n]", text):
        words = line.split()
        if not words:
            continue
        name = words[0]
        if name == "raw":
            out += bytes.fromhex("".join(words[1:]))
            continue
        if len(words) == 1:
            out.append(TAGS[name])
            continue
        number, _, size = words[1].partition(":")
        value = int(number, 0)
        if name in SIGNED:
            signed_max = value < 0
        signed = name in SIGNED or (name in {"logical_max", "physical_max"} and signed_max)
        fits = [n for n in (1, 2, 4) if fit(value, n, signed)]
        size = int(size) if size else fits[0]
        out.append(TAGS[name] | {1: 1, 2: 2, 4: 3}[size])
        out += (value % 256**size).to_bytes(size, "little")
    return bytes(out)


def fit(value, size, signed):
    top = 256**size
    return -top // 2 <= value < top // 2 if signed else 0 <= value < top


JOYSTICK = "page 1; usage 4; collection 1;"
PAD = "page 1; usage 5; collection 1;"
BITS = "logical_min 0; logical_max 1; size 1;"

# The three examples of HID 1.11 are recalled from memory. Two things speak for them: their lengths
# are those that the standard's own HID descriptors state (keyboard 63, mouse 50), and the
# joystick's fields are those of the example in the PID 1.0 specification.
PUBLISHED = {
    "hid_1_11_joystick_d1": (
        "05010904A101050209BB1581257F75089501810205010901A1000930093195028102C009391500250335"
        "00460E0165147504950181420509190129041500250175019504550065008102C0",
        ["007F8152", "8100400F", "7FC03FF3"],
    ),
    "hid_1_11_keyboard_e6": (
        "05010906A101050719E029E7150025017501950881029501750881019505750105081901290591029501"
        "75039101950675081500256505071900296581 00C0",
        ["0200040000000000", "8100040500000000", "0000656600000000"],
    ),
    "hid_1_11_mouse_e10": (
        "05010902A1010901A1000509190129031500250195037501810295017505810105010930093115 81257F"
        "750895028106C0C0",
        ["0105FB", "06817F"],
    ),
}

OURS = {
    "report_numbers": f"""{JOYSTICK} id 1; usage 0x30; usage 0x31; logical_min 0; logical_max 255
        size 8; count 2; input 2; page 9; usage_min 1; usage_max 4; {BITS} count 4; input 2
        count 4; input 1; id 2; page 1; usage 0x32; usage 0x35; logical_min -127; logical_max 127
        size 8; count 2; input 2; end""",
    "sixteen_bits_signed": f"""{PAD} usage 1; collection 0; usage 0x30; usage 0x31; usage 0x33
        usage 0x34; logical_min -32768; logical_max 32767; size 16; count 4; input 2; end
        usage 0x39; logical_min 0; logical_max 7; physical_min 0; physical_max 315; unit 0x14
        size 4; count 1; input 0x42; unit 0; input 3; page 9; usage_min 1; usage_max 8; {BITS}
        count 8; input 2; end""",
    "packed_ten_and_twelve_bits": f"""{JOYSTICK} usage 0x30; usage 0x31; logical_min 0
        logical_max 4095; size 12; count 2; input 2; usage 0x32; usage 0x35; logical_min -512
        logical_max 511; size 10; count 2; input 2; page 9; usage_min 1; usage_max 4; {BITS}
        count 4; input 2; end""",
    "hat_of_eight_behind_padding": f"""{JOYSTICK} size 3; count 1; input 3; usage 0x39
        logical_min 1; logical_max 8; physical_min 0; physical_max 315; unit 0x14; size 4
        input 0x42; size 1; input 3; unit 0; physical_min 0; physical_max 0; usage 0x30; usage 0x31
        logical_min 0; logical_max 255; size 8; count 2; input 2; end""",
    "collections_in_collections": f"""{JOYSTICK} usage 1; collection 0; usage 1; collection 2
        usage 0x30; usage 0x31; logical_min -2047; logical_max 2047; size 16; count 2; input 2; end
        page 9; usage_min 1; usage_max 3; {BITS} count 3; input 2; size 5; count 1; input 1; end
        page 2; usage 0xBB; logical_min 0; logical_max 255; size 8; count 1; input 2; end""",
    "pushed_and_popped": f"""{JOYSTICK} logical_min 0; logical_max 1023; size 10; count 1; push
        page 9; usage_min 1; usage_max 6; {BITS} count 6; input 2; push; size 2; count 1; input 1
        pop; pop; usage 0x30; input 2; usage 0x31; input 2; size 4; input 1; end""",
    "usages_of_four_bytes": f"""{JOYSTICK} page 9; usage 0x00010030:4; usage 0x00010031:4
        usage 0x000200C4:4; logical_min 0; logical_max 255; size 8; count 3; input 2; page 1
        usage_min 0x00090001:4; usage_max 0x00090010:4; {BITS} count 16; input 2; end""",
    "arrays_of_buttons": f"""{PAD} usage 0x30; usage 0x31; logical_min -127; logical_max 127
        size 8; count 2; input 2; page 9; usage_min 1; usage_max 12; logical_min 1; logical_max 12
        size 4; count 2; input 0; page 12; usage 0xE9; usage 0xEA; usage 0xE2; logical_min 1
        logical_max 3; size 8; count 1; input 0; end""",
    "keyboard_mouse_and_pad": f"""page 1; usage 6; collection 1; id 1; page 7; usage_min 0xE0
        usage_max 0xE7; {BITS} count 8; input 2; size 8; count 1; input 1; page 8; usage_min 1
        usage_max 5; {BITS} count 5; output 2; size 3; count 1; output 1; page 7; usage_min 0
        usage_max 101; logical_min 0; logical_max 101; size 8; count 6; input 0; end
        page 1; usage 2; collection 1; id 2; usage 1; collection 0; page 9; usage_min 1
        usage_max 3; {BITS} count 3; input 2; size 5; count 1; input 1; page 1; usage 0x30
        usage 0x31; usage 0x38; logical_min -127; logical_max 127; size 8; count 3; input 6; end
        end; {PAD} id 3; usage 0x30; usage 0x31; logical_min 0; logical_max 65535; size 16
        count 2; input 2; page 9; usage_min 1; usage_max 10; {BITS} count 10; input 2; size 6
        count 1; input 1; end""",
    "feature_and_output": f"""{JOYSTICK} id 5; usage 0x30; usage 0x31; logical_min 0
        logical_max 255; size 8; count 2; input 2; page 8; usage_min 1; usage_max 4; {BITS} count 4
        output 2; count 4; output 1; id 6; page 0xFF00; usage 0x20; logical_min 0; logical_max 255
        size 8; count 3; feature 2; usage 0x21; logical_min -32768; logical_max 32767; size 16
        count 1; feature 0x82; end""",
    "page_of_a_maker": """page 0xFF00; usage 1; collection 1; usage 2; logical_min 0
        logical_max 255; size 8; count 4; input 2; usage 3; usage 4; logical_min -128
        logical_max 127; count 2; input 2; end""",
    "padding_between_axes": f"""{JOYSTICK} usage 0x30; logical_min -15; logical_max 15; size 5
        count 1; input 2; size 3; input 1; usage 0x31; size 5; input 2; size 7; input 3; page 9
        usage 2; usage 5; usage 9; {BITS} count 3; input 2; size 1; count 1; input 1; end""",
    "unit_with_exponent": f"""{JOYSTICK} usage 0x30; usage 0x31; logical_min 0; logical_max 1023
        physical_min -150; physical_max 150; unit 0x11; exponent 0x0E; size 10; count 2; input 2
        size 4; count 1; input 1; page 2; usage 0xBB; logical_min 0; logical_max 255
        physical_min 0; physical_max 2000; unit 0xE111; exponent 3; size 8; input 2; end""",
    "ranges_with_and_without_sign": f"""{JOYSTICK} usage 0x30; logical_min 0; logical_max 255
        size 8; count 1; input 2; usage 0x31; logical_min -128; logical_max 127; input 2
        usage 0x32; logical_min 0; logical_max 1000; size 16; input 2; usage 0x33; logical_min -100
        logical_max 200; input 2; usage 0x34; logical_min -1; logical_max 1; size 2; count 1
        input 2; usage 0x35; logical_min -8; logical_max 7; size 6; input 2; usage 0x36
        logical_min 0; logical_max 0x7FFFFFFF; size 32; input 2; usage 0x37
        logical_min -2147483648; logical_max 2147483647; input 2; end""",
    "last_usage_for_the_rest": f"""{JOYSTICK} usage 0x30; usage 0x31; usage 0x36; logical_min 0
        logical_max 255; size 8; count 5; input 2; page 9; usage_min 1; usage_max 3; {BITS}
        count 8; input 2; end""",
    "pedals_and_steering": f"""page 1; usage 4; collection 1; page 2; usage 0xC8; logical_min -8191
        logical_max 8191; size 14; count 1; input 2; size 2; input 1; usage 0xC4; usage 0xC5
        logical_min 0; logical_max 1023; size 10; count 2; input 2; page 9; usage_min 1
        usage_max 12; {BITS} count 12; input 2; end""",
}  # fmt: skip

# Two items that hid-tools does not know: a long item and reserved ones, put in front. What is
# computed is the descriptor without them.
LONG = "FE03F0A1C0817CFE00FE"


def found(text, chances):
    """What the libraries find in a descriptor, and reports of it taken apart."""
    data = bytes.fromhex(text)
    device = ReportDescriptor.from_bytes(list(data))
    kinds = {
        "input": device.input_reports,
        "output": device.output_reports,
        "feature": device.feature_reports,
    }
    out = {"bytes": data.hex(), "reports": [], "inputs": []}
    other = None
    with contextlib.redirect_stdout(io.StringIO()), warnings.catch_warnings():
        warnings.simplefilter("ignore")
        # Pushing and popping it does not know.
        with contextlib.suppress(NotImplementedError):
            other = hid_parser.ReportDescriptor(list(data))
    out["places_agreed"] = 0
    for kind, reports in kinds.items():
        for number, report in reports.items():
            shift = 8 if number >= 0 else 0
            fields = [field(f, shift) for f in report if not f.is_const]
            if other:
                out["places_agreed"] += agree(other, kind, number, fields)
            bits = report.bitsize - shift
            out["reports"].append(
                {"kind": kind, "id": max(number, 0), "bits": bits, "fields": fields}
            )
    for number, report in device.input_reports.items():
        size = (report.bitsize + 7) // 8
        given = [bytes.fromhex(r) for r in chances.get(number, [])]
        for seed in range(6 - len(given)):
            drawn = [int(256 * u) for u in uniforms(size, 1000 * seed + len(data) + size)]
            given.append(bytes(([number] if number >= 0 else []) + drawn)[:size])
        out["inputs"] += [apart(report, number, one) for one in given]
    return out


def field(one, shift):
    out = {
        "bit": one.start - shift,
        "size": one.size,
        "count": one.count,
        "array": one.is_array,
        "relative": bool(one.type & 4),
        "null": one.is_null,
        "logical": [one.logical_min, one.logical_max],
        "physical": [one.physical_min, one.physical_max],
        "unit": one.unit,
        # Four bits, two's complement.
        "exponent": one.unit_exp - 16 if one.unit_exp > 7 else one.unit_exp,
    }
    return out | ({"usages": one.usages} if one.is_array else {"usage": one.usage})


def agree(other, kind, number, fields):
    """Stops where hid-parser finds a field elsewhere or of another size; how many it found alike.
    It counts one element of an array, and none of those that share the last usage, so places are
    looked at up to the first of these."""
    get = getattr(other, f"get_{kind}_items")
    places = []
    for item in get(None if number < 0 else number):
        if not isinstance(item, hid_parser.PaddingItem):
            places.append((int(item.offset), int(item.size)))
    alike = 0
    for place, one in zip(places, fields, strict=False):
        shared = alike and one.get("usage") == fields[alike - 1].get("usage")
        if shared and not one["array"]:
            break
        assert place == (one["bit"], one["size"]), (kind, number, place, one)
        alike += 1
        if one["array"]:
            break
    assert alike or not fields
    return alike


def apart(report, number, data):
    """Numbers in order; how each stands (i inside its range, n null, o outside); and what those of
    arrays name."""
    values, standing, named = [], "", []
    for one in report:
        if one.is_const:
            continue
        for value in one.get_values(list(data)):
            values.append(value)
            inside = one.logical_min <= value <= one.logical_max
            standing += "i" if inside else "n" if one.is_array or one.is_null else "o"
            if one.is_array:
                # HID 1.11, 6.2.2.5: numbers name usages from the least one on.
                place = value - one.logical_min
                there = inside and place < len(one.usages)
                named.append(one.usages[place] if there else None)
    return {
        "id": max(number, 0),
        "wire": data.hex(),
        "values": values,
        "standing": standing,
        "named": named,
    }


ALL = {
    name: found(text.replace(" ", ""), {-1: reports})
    for name, (text, reports) in PUBLISHED.items()
}
ALL |= {name: found(items(text).hex(), {}) for name, text in OURS.items()}
plain = items(OURS["sixteen_bits_signed"]).hex()
ALL["a_long_item"] = found(plain, {}) | {"bytes": (LONG[:12] + plain).lower()}
assert len(bytes.fromhex(ALL["hid_1_11_keyboard_e6"]["bytes"])) == 63
assert len(bytes.fromhex(ALL["hid_1_11_mouse_e10"]["bytes"])) == 50
write(
    "hid/descriptors",
    "Examples of HID 1.11 (D.1, E.6, E.10), recalled from memory: the lengths 63 and 50 are those "
    "the standard states, and the joystick's fields are those of the example in PID 1.0. All "
    "others are our own. Bits are counted behind the report number, lowest bit of each byte first. "
    "Places and sizes: hid-parser and hid-tools, which agree. Values: hid-tools. Padding is left "
    "out. The long item is put in front of a descriptor that was computed without it.",
    ["hid-parser", "hid-tools"],
    {"descriptors": ALL},
)

TABLES = {1: "0001", 2: "0002", 7: "0007", 8: "0008", 9: "0009", 12: "000c"}


def table(start):
    (path,) = (Path(hidtools.__file__).parent / "data").glob(f"{start}_*.hut")
    head, *rows = path.read_text().splitlines()
    rows = [re.match(r"^([0-9A-Fa-f]+)\t(.+)$", row) for row in rows]
    kept = [(int(row[1], 16), row[2].strip()) for row in rows if row]
    usages = {str(n): name for n, name in kept if name.lower() != "reserved" and n < 0x300}
    return {"name": head.split("\t")[1], "usages": usages}


write(
    "hid/usages",
    "HID Usage Tables as shipped with hid-tools (its data files): pages and numbers with their "
    "names. Ranges of numbers are left out.",
    ["hid-tools"],
    {"pages": {str(page): table(start) for page, start in TABLES.items()}},
)
