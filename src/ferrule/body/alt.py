"""The figure in words, from the same pose: for screen readers and for the spoken page."""

from __future__ import annotations

from cmath import phase
from collections.abc import Sequence
from math import degrees

from ferrule.body.angles import SIDES
from ferrule.body.arms import free_arms
from ferrule.body.names import Names
from ferrule.body.posture import Posture
from ferrule.body.sides import OneSide
from ferrule.model.pose import Contact, Movement
from ferrule.model.words import Place

_PARTS = {
    "hand": ("hand", "hands"),
    "forearm": ("forearm", "forearms"),
    "elbow": ("elbow", "elbows"),
    "foot": ("foot", "feet"),
    "ball": ("ball of the foot", "balls of the feet"),
    "heel": ("heel", "heels"),
    "ankle": ("ankle", "ankles"),
    "midshin": ("shin", "shins"),
    "knee": ("knee", "knees"),
}


def _height(contact: Contact) -> str:
    if contact.on == "bar":
        return "on a bar"
    if contact.on == "wall":
        return "on the wall"
    thing = contact.on if contact.on != "floor" else "box"
    return f"on a {contact.height_m * 100:.0f} cm {thing}" if contact.height_m > 0 else "on the floor"


def _part(contact: Contact, alone: bool, names: Names) -> str:
    one, many = _PARTS[contact.at]
    if contact.limb == "both":
        return many
    which = "one" if alone and names.side is None else names.of(contact.limb)
    return f"ball of the {which} foot".replace("the one", "one") if contact.at == "ball" else f"{which} {one}"


def _hips(p: Posture) -> str:
    """Raised when trunk and working thigh make one line."""
    thigh = p.angles["lead.thigh"] or 0.0
    return "hips raised" if abs(degrees((p.angles["trunk"] or 0.0) + thigh)) < 33 else "hips low"


def stance(p: Posture, names: Names) -> str:
    """How the body is held up."""
    contacts = p.contacts
    at = {c.at: c for c in contacts}
    held = set(at)
    trunk = degrees(p.angles["trunk"] or 0.0)
    if not contacts:
        if min(p.points["hip"].imag, p.points["shoulder"].imag) > 0.3:
            return "in the air"
        if p.movement.view == "front":
            return f"lying on {names.one('lead' if p.movement.down == 'lead' else 'rear')} side"
        return "lying on the back" if trunk < 0 else "lying on the front"
    if "upper back" in held:
        on = at["upper back"]
        where = f"upper back {_height(on)}" if on.height_m > 0 else "lying on the back"
        feet = next((c for c in contacts if c.at in ("foot", "heel", "ball")), None)
        if feet is None:
            return where
        return f"{where}, {_part(feet, True, names)} {_height(feet)}, {_hips(p)}"
    if "seat" in held:
        thing = at["seat"].on if at["seat"].on != "floor" else ("box" if at["seat"].height_m > 0.1 else "floor")
        return f"sitting on the {thing}" if thing == "floor" else f"sitting on a {thing}"
    if held & {"elbow", "forearm", "hand"} and p.movement.view == "front":
        arm = next(c for c in contacts if c.at in ("elbow", "forearm", "hand"))
        low = next((c for c in contacts if c is not arm), None)
        side = f"on {names.one(arm.limb)} side, propped on the {_PARTS[arm.at][0]}"
        return side if low is None else f"{side}, {_part(low, True, names)} {_height(low)}, {_hips(p)}"
    if "hand" in held and at["hand"].on == "bar":
        if len(contacts) == 1:
            return "hanging from a bar"
        others = " and ".join(f"{_part(c, False, names)} {_height(c)}" for c in contacts if c.at != "hand")
        lean = round(abs(trunk) / 5) * 5
        return f"leaning back {lean:.0f} degrees, hands holding on, {others}"
    if held == {"knee", "ankle"} or held == {"knee"}:
        return "kneeling"
    if len(contacts) == 1:
        only = contacts[0]
        if only.limb == "both" or (only.at == "foot" and _beside(p, only)):
            base = "standing on both feet" if only.at == "foot" else f"standing on the {_part(only, True, names)}"
        else:
            leg = names.one(only.limb)
            base = (
                f"standing on {leg} leg" if only.at == "foot" else f"standing on the {_PARTS[only.at][0]} of {leg} leg"
            )
            base = base.replace(f"ball of the foot of {leg} leg", f"ball of {leg} foot")
        return f"{base}, {_height(only)}" if only.height_m > 0 else base
    if p.movement.view == "front" and held == {"foot"}:
        apart = abs(p.supports[0].real - p.supports[1].real)
        middle = p.points["hip"].real
        across = [
            side
            for side in SIDES
            if (p.points[f"{side}.ankle"].real - middle) * (p.points[f"{side}.hip"].real - middle) < -0.001
        ]
        if across:
            return f"standing with the {names.of(across[0])} leg across the other"
        return "standing with the feet apart" if apart > 0.3 else "standing on both feet"
    if held <= {"foot", "ball", "ankle", "heel"}:
        first, second = contacts[0], contacts[1]
        behind = p.supports[1].real < p.supports[0].real
        return f"{_part(first, False, names)} {_height(first)}, {_part(second, False, names)} {_height(second)} {'behind' if behind else 'ahead'}"
    if len({_height(c) for c in contacts}) == 1:
        return f"{' and '.join(_part(c, False, names) for c in contacts)} {_height(contacts[0])}"
    return ", ".join(f"{_part(c, False, names)} {_height(c)}" for c in contacts)


def _beside(p: Posture, contact: Contact) -> bool:
    """True when the free foot lies flat at the height of the standing one, which bears the weight."""
    free = "rear" if contact.limb == "lead" else "lead"
    if p.movement.view == "front":
        return False
    return all(abs(p.points[f"{free}.{end}"].imag - contact.height_m) < 0.015 for end in ("heel", "ball"))


def _bend(p: Posture, names: Names) -> str:
    thigh, shin = p.angles["lead.thigh"], p.angles["lead.shin"]
    if thigh is None or shin is None or p.movement.view == "front" or _free(p, _LEGS) == "lead":
        return ""
    knee = round(abs(degrees(thigh + shin)) / 10) * 10
    rear = p.angles["rear.thigh"], p.angles["rear.shin"]
    word = "knees" if rear == (thigh, shin) else f"{names.of('lead')} knee"
    if knee < 20 or any(c.at in ("hand", "forearm") for c in p.contacts):
        return ""
    return f"{word} bent {knee:.0f} degrees"


def _lean(p: Posture) -> str:
    upright = bool(p.contacts) and all(c.at in ("foot", "ball", "heel", "ankle") for c in p.contacts)
    trunk = round(degrees(p.angles["trunk"] or 0.0) / 10) * 10
    if not upright or p.movement.view == "front":
        return ""
    if abs(trunk) < 15:
        ahead = len(p.supports) == 1 and p.points["hip"].real - p.supports[0].real > 0.25
        return "hips far ahead of the foot" if ahead else ""
    return f"trunk leaning {'forward' if trunk > 0 else 'back'} {abs(trunk):.0f} degrees"


def _toes_up(p: Posture) -> bool:
    alone = len(p.contacts) == 1 or any(c.at == "seat" for c in p.contacts)
    shin, foot = p.angles["lead.shin"], p.angles["lead.foot"]
    low = abs(p.points["lead.heel"].imag) < 0.03 < p.points["lead.ball"].imag
    return alone and low and shin is not None and degrees((foot or 0.0) - shin) < -8


def _heels(p: Posture) -> str:
    """How high the heel is over a ball of the foot one stands on, or the toes over the heel."""
    if p.movement.view == "side" and any(c.at in ("heel", "foot") for c in p.contacts) and _toes_up(p):
        return "toes pulled up"
    balls = [c for c in p.contacts if c.at == "ball"]
    alone = len(p.contacts) == 1 or any(c.at == "seat" for c in p.contacts)
    if not balls or not alone or p.movement.view == "front":
        return ""
    side = "rear" if balls[0].limb == "rear" else "lead"
    foot = degrees(p.angles[f"{side}.foot"] or 0.0)
    word = "heels" if balls[0].limb == "both" else "heel"
    if 13 < foot < 18:
        return f"{word} half raised"
    return f"{word} high" if foot > 15 else f"{word} below the ball of the foot" if foot < -5 else f"{word} low"


def _arms(p: Posture, names: Names) -> str:
    """Straight or bent arms where the hands are planted, elbows far ahead in a plank."""
    if any(c.at in ("elbow", "forearm") for c in p.contacts):
        ahead = p.points["lead.elbow"].real - p.points["lead.shoulder"].real
        return "elbows ahead of the shoulders" if p.movement.view == "side" and ahead > 0.2 else ""
    if not any(c.at == "hand" for c in p.contacts):
        return ""
    upper = p.points["lead.elbow"] - p.points["lead.shoulder"]
    fore = p.points["lead.wrist"] - p.points["lead.elbow"]
    arms = "arms" if _free(p, ("hand",)) == "" else f"the {names.of('lead')} arm"
    return f"{arms} bent" if abs(degrees(phase(fore / upper))) > 25 else f"{arms} straight"


def _hips_high(p: Posture) -> str:
    """Hips well above the line from feet to shoulders, hands and feet on the ground."""
    if not {"hand", "ball"} <= {c.at for c in p.contacts} or p.movement.view == "front":
        return ""
    ankle, shoulder, hip = (p.points[n] for n in ("lead.ankle", "lead.shoulder", "hip"))
    along = (shoulder - ankle) / abs(shoulder - ankle)
    return "hips high" if ((hip - ankle) / along).imag > 0.25 else ""


def _front_legs(p: Posture, names: Names) -> str:
    """Bent knees in a front view: standing low, or lying with the shins out of the picture."""
    if p.movement.view != "front":
        return ""
    straight = p.body.thigh + p.body.shin
    if not p.contacts:
        shins = {side: p.points[f"{side}.ankle"] - p.points[f"{side}.knee"] for side in SIDES}
        up = _turned_up(p)
        if up:
            return f"knees bent, {names.of(up)} foot turned up"
        turned = min(abs(p.angles[f"{side}.leg_out"] or 0.0) for side in SIDES) > 0.3
        return "knees bent" if turned or max(map(abs, shins.values())) < 0.1 else ""
    bent = [
        side
        for side in SIDES
        if any(c.at == "foot" and c.limb in (side, "both") for c in p.contacts)
        and abs(p.points[f"{side}.ankle"] - p.points[f"{side}.hip"]) < 0.94 * straight
    ]
    return "knees bent" if len(bent) == 2 else f"{names.of(bent[0])} knee bent" if bent else ""


def _turned_up(p: Posture) -> str:
    """The side whose foot is turned up from the bent knee of one who lies on the side; "" when none is."""
    for side in SIDES:
        shin = p.points[f"{side}.ankle"] - p.points[f"{side}.knee"]
        thigh = p.points[f"{side}.knee"] - p.points[f"{side}.hip"]
        if shin.imag > 0.5 * abs(shin) > 0.05 and abs(thigh.imag) < 0.05:
            return side
    return ""


def _free_limbs(p: Posture, names: Names) -> str:
    """Where the leg and the arm go that hold nothing up while their fellows do."""
    at = {c.at for c in p.contacts}
    if not p.contacts and p.movement.view == "front":
        down, up = ("lead", "rear") if p.movement.down == "lead" else ("rear", "lead")
        if _turned_up(p):
            return ""
        rise = {side: p.points[f"{side}.ankle"].imag - p.points[f"{side}.hip"].imag for side in SIDES}
        raised = [word for word, side in (("lower", down), ("upper", up)) if rise[side] > 0.08]
        if not raised and p.points[f"{up}.knee"].imag - p.points[f"{up}.hip"].imag > 0.08:
            return "the upper knee raised, the feet together"
        return f"the {raised[0]} leg raised" if len(raised) == 1 else "both legs raised" if raised else ""
    if not p.contacts:
        return _lying_limbs(p, names)
    if "seat" in at:
        lifted = _free(p, _LEGS) if p.movement.view == "side" else ""
        return f"the {names.of(lifted)} foot off the floor" if lifted and p.points[f"{lifted}.ball"].imag > 0.05 else ""
    words = []
    free = _free(p, _LEGS)
    if free and not (len(p.contacts) == 1 and p.contacts[0].at == "foot" and _beside(p, p.contacts[0])):
        words.append(f"the {names.of(free)} {_free_leg(p, free)}")
    free = _free(p, ("hand", "elbow", "forearm"))
    if free and p.movement.view == "side" and p.points[f"{free}.wrist"].imag > p.points[f"{free}.shoulder"].imag - 0.15:
        words.append(f"the {names.of(free)} arm raised")
    return ", ".join(word for word in words if not word.endswith(" "))


def _lying_limbs(p: Posture, names: Names) -> str:
    """What is lifted off the floor by one who lies on the back or the front."""
    if p.points["hip"].imag > 0.3:
        return ""
    words = ["chest raised"] if 0 < degrees(p.angles["trunk"] or 0.0) < 86 else []
    for limb, joint in (("leg", "ankle"), ("arm", "wrist")):
        up = [side for side in SIDES if p.points[f"{side}.{joint}"].imag > 0.2]
        words += [f"{names.one(up[0])} {limb} raised"] if len(up) == 1 else [f"both {limb}s raised"] if up else []
    return ", ".join(words)


_LEGS = ("foot", "ball", "heel", "ankle", "midshin", "knee")


def _free(p: Posture, kinds: Sequence[str]) -> str:
    """The one side that holds nothing up with these parts while the other does; "" when both or none do."""
    held = {side for side in SIDES for c in p.contacts if c.at in kinds and c.limb in (side, "both")}
    return next(iter(set(SIDES) - held)) if len(held) == 1 else ""


def _free_leg(p: Posture, side: str) -> str:
    """ "leg stretched behind", "foot off the floor", ...; nothing in a front view where it only hangs."""
    ankle, hip = p.points[f"{side}.ankle"], p.points["hip"]
    standing = p.points[f"{'lead' if side == 'rear' else 'rear'}.ankle"]
    if p.movement.view == "front":
        if p.points["up"].imag > 0.7 and p.points[f"{side}.knee"].imag > hip.imag - 0.15:
            return "knee lifted"
        aside = abs(ankle.real - standing.real) > 0.3
        return "leg out to the side" if aside else "leg raised" if ankle.imag > standing.imag + 0.25 else ""
    thigh, shin = (degrees(p.angles[f"{side}.{part}"] or 0.0) for part in ("thigh", "shin"))
    shape = "stretched" if abs(thigh + shin) < 30 else "bent"
    if any(c.at == "upper back" for c in p.contacts):
        return f"leg {shape}, off the floor"
    if ankle.real > max(hip.real, standing.real) + 0.2 or ankle.real > hip.real + 0.3:
        return f"leg {shape} in front"
    if ankle.real < hip.real - 0.3:
        return f"leg {shape} behind"
    return "knee lifted in front" if thigh > 45 else "foot off the floor"


def _props(p: Posture) -> str:
    """Props that nothing rests on yet: a band, a chair behind, a wall."""
    words = []
    for prop in p.movement.props:
        under = prop.under.split(".")[-1]
        if prop.kind == "band" and "." in prop.under:
            words.append(
                f"a band from the {_PARTS[under][0]} to {'the side' if p.movement.view == 'front' else 'something ahead'}"
            )
        elif prop.kind == "ball":
            words.append(f"a ball between the {_PARTS[under][1]}")
        elif prop.kind == "rope":
            words.append("a rope in the hands")
        elif prop.kind == "band" and under == "wrist":
            words.append("a band between the hands")
        elif prop.kind == "band":
            both = {"knee": "knees", "ankle": "ankles", "ball": "feet", "thigh": "thighs"}.get(under)
            words.append(f"a band round the {both}" if both else "a band from hands to feet")
        elif prop.kind == "wall":
            words.append("back against a wall" if under == "back" else "at a wall")
        elif prop.kind in ("box", "chair", "bench", "step", "sofa"):
            words.append(f"a {prop.kind} {'behind' if prop.under and under != 'wrist' else 'ahead'}")
        elif prop.kind == "towel":
            under_foot = "foot" in under or under in ("heel", "ball", "sole")
            one = under == "sole" or {c.limb for c in p.contacts if c.at in ("foot", "ball", "heel")} == {"lead"}
            words.append(f"a towel under the {'foot' if one else 'feet'}" if under_foot else "a towel")
    return ", ".join(words)


def _back(p: Posture) -> str:
    bent = degrees(p.angles.get("back") or 0.0)
    return "back rounded" if bent > 20 else "back hollow" if bent < -20 else ""


def alt_text(p: Posture, place: Place | None = None, side: OneSide | None = None) -> str:
    """One line: stance, bend, lean, free leg, load. `side` is the working side, to be named."""
    names = Names(side)
    parts = [
        stance(p, names),
        _bend(p, names),
        _arms(p, names),
        _hips_high(p),
        _front_legs(p, names),
        _heels(p),
        _lean(p),
        _back(p),
        _free_limbs(p, names),
        free_arms(p, names),
        _props(p),
        names.carried(place) if place is not None else "",
    ]
    return ", ".join(part for part in parts if part)


def step_words(movement: Movement, side: OneSide | None) -> str:
    """Which foot steps, where one does and the movement says which."""
    if not movement.steps:
        return ""
    way = "to the side" if movement.view == "front" else "ahead" if movement.steps == "lead" else "back"
    return f", the {Names(side).of(movement.steps)} foot stepping {way}"
