"""What the keys of some countries' keyboards type, to look at a scanner that is set to another one.

A scanner sends places of keys, as its own country has them; the machine reads letters off the same
places as its country has them. Each row: digits, upper, home and lower row from left to right;
first without Shift, then with it. `·` is a dead key, which types nothing by itself.

Source: xkeyboard-config 2.35.1, symbols of each country's first layout on the key codes of pc105.
"""

from __future__ import annotations

KEYBOARDS = {
    "US": (
        "1234567890-= qwertyuiop[] asdfghjkl;'\\ zxcvbnm,./",
        '!@#$%^&*()_+ QWERTYUIOP{} ASDFGHJKL:"| ZXCVBNM<>?',
    ),
    "British": (
        "1234567890-= qwertyuiop[] asdfghjkl;'# zxcvbnm,./",
        '!"£$%^&*()_+ QWERTYUIOP{} ASDFGHJKL:@~ ZXCVBNM<>?',
    ),
    "German": (
        "1234567890ß· qwertzuiopü+ asdfghjklöä# yxcvbnm,.-",
        "!\"§$%&/()=?· QWERTZUIOPÜ* ASDFGHJKLÖÄ' YXCVBNM;:_",
    ),
    "Swiss": (
        "1234567890'· qwertzuiopü· asdfghjklöä$ yxcvbnm,.-",
        '+"*ç%&/()=?· QWERTZUIOPè! ASDFGHJKLéà£ YXCVBNM;:_',
    ),
    "French": (
        "&é\"'(-è_çà)= azertyuiop·$ qsdfghjklmù* wxcvbn,;:!",
        "1234567890°+ AZERTYUIOP·£ QSDFGHJKLM%µ WXCVBN?./§",
    ),
    "Belgian": (
        "&é\"'(§è!çà)- azertyuiop·$ qsdfghjklmùµ wxcvbn,;:=",
        "1234567890°_ AZERTYUIOP·* QSDFGHJKLM%£ WXCVBN?./+",
    ),
    "Spanish": (
        "1234567890'¡ qwertyuiop·+ asdfghjklñ·ç zxcvbnm,.-",
        '!"·$%&/()=?¿ QWERTYUIOP·* ASDFGHJKLÑ·Ç ZXCVBNM;:_',
    ),
    "Italian": (
        "1234567890'ì qwertyuiopè+ asdfghjklòàù zxcvbnm,.-",
        '!"£$%&/()=?^ QWERTYUIOPé* ASDFGHJKLç°§ ZXCVBNM;:_',
    ),
    "Portuguese": (
        "1234567890'« qwertyuiop+· asdfghjklçº· zxcvbnm,.-",
        '!"#$%&/()=?» QWERTYUIOP*· ASDFGHJKLÇª· ZXCVBNM;:_',
    ),
    "Swedish": (
        "1234567890+· qwertyuiopå· asdfghjklöä' zxcvbnm,.-",
        '!"#¤%&/()=?· QWERTYUIOPÅ· ASDFGHJKLÖÄ* ZXCVBNM;:_',
    ),
    "Polish": (
        "1234567890-= qwertyuiop[] asdfghjkl;'\\ zxcvbnm,./",
        '!@#$%^&*()_+ QWERTYUIOP{} ASDFGHJKL:"| ZXCVBNM<>?',
    ),
    "Czech": (
        "+ěščřžýáíé=· qwertzuiopú) asdfghjklů§· yxcvbnm,.-",
        "1234567890%· QWERTZUIOP/( ASDFGHJKL\"!' YXCVBNM?:_",
    ),
    "Slovak": (
        "+ľščťžýáíé=· qwertzuiopúä asdfghjklô§ň yxcvbnm,.-",
        '1234567890%· QWERTZUIOP/( ASDFGHJKL"!) YXCVBNM?:_',
    ),
    "Hungarian": (
        "123456789öüó qwertzuiopőú asdfghjkléáű yxcvbnm,.-",
        "'\"+!%/=()ÖÜÓ QWERTZUIOPŐÚ ASDFGHJKLÉÁŰ YXCVBNM?:_",
    ),
    "Croatian": (
        "1234567890'+ qwertzuiopšđ asdfghjklčćž yxcvbnm,.-",
        '!"#$%&/()=?* QWERTZUIOPŠĐ ASDFGHJKLČĆŽ YXCVBNM;:_',
    ),
    "Turkish": (
        "1234567890*- qwertyuıopğü asdfghjklşi, zxcvbnmöç.",
        "!'^+%&/()=?_ QWERTYUIOPĞÜ ASDFGHJKLŞİ; ZXCVBNMÖÇ:",
    ),
    "Lithuanian": (
        "ąčęėįšųū„“-ž qwertyuiop[] asdfghjkl;'\\ zxcvbnm,./",
        'ĄČĘĖĮŠŲŪ()_Ž QWERTYUIOP{} ASDFGHJKL:"| ZXCVBNM<>?',
    ),
    "Canadian French": (
        "1234567890-= qwertyuiop·· asdfghjkl;·< zxcvbnm,.é",
        "!\"/$%?&*()_+ QWERTYUIOP·· ASDFGHJKL:·> ZXCVBNM'.É",
    ),
}


def through(text: str, scanner: str, machine: str) -> str:
    """What arrives of a text when the scanner is set to one country and the machine to another.

    Keys that type no sign of their own, like Tab, Enter and Space, are the same everywhere.
    """
    places = {
        sign: (shift, at)
        for shift, row in enumerate(KEYBOARDS[scanner])
        for at, sign in enumerate(row)
        if sign not in " ·"
    }
    arrived: list[str] = []
    for sign in text:
        shift, at = places.get(sign, (0, -1))
        arrived.append(KEYBOARDS[machine][shift][at] if at >= 0 else sign)
    return "".join(arrived)
