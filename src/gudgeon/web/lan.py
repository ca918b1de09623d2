"""The local network: this machine's address in it, the token that opens the workbench, and both as a code to scan."""

import io
import ipaddress
import secrets
import socket

from gudgeon.errors import Fault, Refusal

_LETTERS = "abcdefghjkmnpqrstuvwxyz23456789"  # none that are taken for each other
_GROUPS, _GROUP = 4, 4  # 31 ** 16 tokens: some 79 bits
_NOWHERE = ("192.0.2.1", 9)  # an address kept for documents (RFC 5737): nothing is sent, only the way there is asked


def local_address() -> str:
    """This machine's address on the local network.

    raises : Refusal when it is on none, or its address there is a public one
    """
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way:
        try:
            way.connect(_NOWHERE)
            found = str(way.getsockname()[0])
        except OSError:
            raise _refused("this machine is on no network; leave --network out to work on it alone") from None
    address = ipaddress.ip_address(found)
    if address.is_loopback or not address.is_private:
        raise _refused(f"this machine's address, {found}, is not one of a local network; leave --network out")
    return found


def new_token() -> str:
    """A token that nobody guesses, short enough to be typed: "k7wq-h2md-..."."""
    groups = ("".join(secrets.choice(_LETTERS) for _ in range(_GROUP)) for _ in range(_GROUPS))
    return "-".join(groups)


def scan_code(address: str) -> str:
    """An address as a code for a camera, in characters of a terminal."""
    import segno

    drawn = io.StringIO()
    segno.make(address, error="m", micro=False).terminal(drawn, compact=True)
    return drawn.getvalue()


def _refused(words: str) -> Refusal:
    return Refusal("the workbench cannot be opened to the network", [Fault("--network", words)])
