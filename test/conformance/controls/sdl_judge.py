"""Asks libsdl2 itself. Reads one JSON request on standard input, prints one JSON answer; needs no device.

{"ask": "version"}
{"ask": "move", "line": mapping line, "axes": n, "buttons": n, "hats": n, "moves": [{"button": 0} | {"axis": 0, "value": 32767} | {"hat": 0, "value": 1}]}
{"ask": "guids"}    the GUID and mapping of every built-in mapping, with what the library reads from the GUID
"""
import ctypes, json, os, sys

os.environ.update(SDL_VIDEODRIVER="dummy", SDL_JOYSTICK_ALLOW_BACKGROUND_EVENTS="1", SDL_LINUX_JOYSTICK_CLASSIC="0")
sdl = ctypes.CDLL("libSDL2-2.0.so.0")


class Guid(ctypes.Structure):
    _fields_ = [("data", ctypes.c_uint8 * 16)]


sdl.SDL_JoystickGetGUID.restype = Guid
sdl.SDL_JoystickGetGUIDFromString.restype = Guid
sdl.SDL_JoystickGetGUIDFromString.argtypes = [ctypes.c_char_p]
sdl.SDL_JoystickGetGUIDString.argtypes = [Guid, ctypes.c_char_p, ctypes.c_int]
for name in ("SDL_JoystickOpen", "SDL_GameControllerOpen", "SDL_GameControllerMappingForIndex"):
    getattr(sdl, name).restype = ctypes.c_void_p
sdl.SDL_JoystickGetGUID.argtypes = [ctypes.c_void_p]
sdl.SDL_JoystickSetVirtualButton.argtypes = [ctypes.c_void_p, ctypes.c_int, ctypes.c_uint8]
sdl.SDL_JoystickSetVirtualAxis.argtypes = [ctypes.c_void_p, ctypes.c_int, ctypes.c_int16]
sdl.SDL_JoystickSetVirtualHat.argtypes = [ctypes.c_void_p, ctypes.c_int, ctypes.c_uint8]
sdl.SDL_GameControllerGetButton.argtypes = [ctypes.c_void_p, ctypes.c_int]
sdl.SDL_GameControllerGetButton.restype = ctypes.c_uint8
sdl.SDL_GameControllerGetAxis.argtypes = [ctypes.c_void_p, ctypes.c_int]
sdl.SDL_GameControllerGetAxis.restype = ctypes.c_int16
sdl.SDL_GameControllerGetStringForButton.restype = ctypes.c_char_p
sdl.SDL_GameControllerGetStringForAxis.restype = ctypes.c_char_p
sdl.SDL_free.argtypes = [ctypes.c_void_p]


def version():
    found = (ctypes.c_uint8 * 3)()
    sdl.SDL_GetVersion(found)
    return ".".join(str(part) for part in found)


def move(request):
    axes, buttons, hats = request["axes"], request["buttons"], request["hats"]
    index = sdl.SDL_JoystickAttachVirtual(0, axes, buttons, hats)
    joystick = sdl.SDL_JoystickOpen(index)
    text = ctypes.create_string_buffer(33)
    sdl.SDL_JoystickGetGUIDString(sdl.SDL_JoystickGetGUID(joystick), text, 33)
    guid = text.value.decode()
    line = guid[:4] + "0000" + guid[8:] + request["line"][32:]
    if sdl.SDL_GameControllerAddMapping(line.encode()) < 0:
        return {"refused": True}
    pad = sdl.SDL_GameControllerOpen(index)
    if not pad:
        return {"refused": True}

    def outputs():
        sdl.SDL_JoystickUpdate()
        sdl.SDL_GameControllerUpdate()
        found = {}
        for k in range(21):
            name = sdl.SDL_GameControllerGetStringForButton(k)
            if name and sdl.SDL_GameControllerGetButton(pad, k):
                found[name.decode()] = 1
        for k in range(6):
            value = sdl.SDL_GameControllerGetAxis(pad, k)
            if value:
                found[sdl.SDL_GameControllerGetStringForAxis(k).decode()] = value
        return found

    low = set(request.get("low", []))

    def rest():
        for k in range(axes):
            sdl.SDL_JoystickSetVirtualAxis(joystick, k, -32768 if k in low else 0)
        for k in range(buttons):
            sdl.SDL_JoystickSetVirtualButton(joystick, k, 0)
        for k in range(hats):
            sdl.SDL_JoystickSetVirtualHat(joystick, k, 0)

    answers = []
    # The first movement only wakes axes that SDL has not seen move.
    for k in range(axes):
        sdl.SDL_JoystickSetVirtualAxis(joystick, k, 32767)
    outputs()
    for one in request["moves"]:
        rest()
        outputs()
        if "button" in one:
            sdl.SDL_JoystickSetVirtualButton(joystick, one["button"], 1)
        elif "axis" in one:
            sdl.SDL_JoystickSetVirtualAxis(joystick, one["axis"], one["value"])
        else:
            sdl.SDL_JoystickSetVirtualHat(joystick, one["hat"], one["value"])
        answers.append(outputs())
    return {"outputs": answers}


def guids():
    answers = []
    for k in range(sdl.SDL_GameControllerNumMappings()):
        held = sdl.SDL_GameControllerMappingForIndex(k)
        line = ctypes.string_at(held).decode("utf-8", "surrogateescape")
        sdl.SDL_free(held)
        numbers = [ctypes.c_uint16() for _ in range(4)]
        guid = sdl.SDL_JoystickGetGUIDFromString(line.split(",")[0].encode())
        sdl.SDL_GetJoystickGUIDInfo(guid, *[ctypes.byref(number) for number in numbers])
        vendor, product, release, crc = [number.value for number in numbers]
        answers.append({"line": line, "bus": guid.data[0] | guid.data[1] << 8, "vendor": vendor, "product": product, "version": release, "crc": crc})
    return {"mappings": answers}


request = json.load(sys.stdin)
sdl.SDL_SetHint(b"SDL_JOYSTICK_ALLOW_BACKGROUND_EVENTS", b"1")
if request["ask"] == "version":
    answer = {"version": version()}
else:
    if sdl.SDL_Init(0x2000) != 0:
        sys.exit("SDL cannot start")
    answer = move(request) if request["ask"] == "move" else guids()
json.dump(answer, sys.stdout)
