"""Debian's sshd on a loopback port, with keys and settings of its own; and the client's words.

The account is that of whoever runs this: root, or an ordinary user, since `UsePAM no` lets sshd
serve its own account without being root. Everything that sshd can give is given by its settings, so
that what a key may not do is the line's doing alone.
"""

from __future__ import annotations

import grp
import os
import pwd
import shutil
import socket
import subprocess
from collections.abc import Generator
from contextlib import contextmanager, redirect_stdout, suppress
from dataclasses import dataclass
from io import StringIO
from pathlib import Path

from tests.faults.ssh_left import until
from tui.cli.run import main

SSHD = Path("/usr/sbin/sshd")
SEPARATION = Path("/run/sshd")
"""Where sshd confines itself when it is root; Debian's service makes it at each start."""
SFTP_SERVER = "/usr/lib/openssh/sftp-server"
BADGE = "B12"
SETTINGS = """\
ListenAddress 127.0.0.1
Port {port}
HostKey {folder}/host
PidFile none
AuthorizedKeysFile {folder}/authorized_keys
StrictModes no
UsePAM no
PasswordAuthentication no
KbdInteractiveAuthentication no
PermitRootLogin prohibit-password
PrintMotd no
PrintLastLog no
LogLevel VERBOSE
AcceptEnv LANG LC_* HOISTBOOK_*
AllowTcpForwarding yes
AllowStreamLocalForwarding yes
AllowAgentForwarding yes
X11Forwarding yes
GatewayPorts yes
MaxStartups 100
SetEnv HOISTBOOK_LEARNER={learner}
ClientAliveInterval {alive}
ClientAliveCountMax 1
Subsystem sftp {sftp}
"""


def lacks() -> str:
    """What a real line over SSH needs and is not here."""
    if not SSHD.exists() or not shutil.which("ssh-keygen"):
        return "Debian's openssh-server (apt-get install openssh-server)"
    account = pwd.getpwuid(os.geteuid())
    if Path(account.pw_shell).name in ("nologin", "false"):
        return f"a login shell for {account.pw_name}: sshd begins the line's command by it"
    if _is_locked(account.pw_name):
        return f"an account that is not locked (usermod -p '*' {account.pw_name})"
    if os.geteuid() and not _terminals_of_tty():
        return "root, or pseudo-terminals that belong to the group tty (devpts mounted with gid=5)"
    return ""


def _terminals_of_tty() -> bool:
    """Whether sshd finds its terminals as it wants them: it may give them away only as root."""
    ends = os.openpty()
    try:
        return os.fstat(ends[1]).st_gid == grp.getgrnam("tty").gr_gid
    finally:
        for one in ends:
            os.close(one)


def _is_locked(name: str) -> bool:
    """Whether sshd lets nobody in by this name, where whoever runs this can tell; see shadow(5)."""
    with suppress(OSError):
        lines = Path("/etc/shadow").read_text("utf-8").splitlines()
        return any(one.startswith(f"{name}:!") for one in lines)
    return False


@dataclass(frozen=True, slots=True)
class Host:
    """A host that a bay terminal calls.

    Attributes:
        folder: keys, settings and log.
        port: of the loopback address.
        shop: the shop file that the line opens.
        process: sshd itself; each connection is a child of it.
    """

    folder: Path
    port: int
    shop: Path
    process: subprocess.Popen[bytes]

    @property
    def log(self) -> str:
        """What sshd wrote down."""
        return (self.folder / "log").read_text("utf-8", errors="replace")

    @property
    def user(self) -> str:
        """The account that the key opens."""
        return pwd.getpwuid(os.geteuid()).pw_name

    def client(self, *options: str, program: str = "ssh", port: int | None = None) -> list[str]:
        """The words of a client that has the technician's key and nothing else."""
        settings = {
            "IdentityFile": self.folder / "key", "IdentitiesOnly": "yes", "BatchMode": "yes",
            "UserKnownHostsFile": self.folder / "known", "GlobalKnownHostsFile": "/dev/null",
            "StrictHostKeyChecking": "yes", "HostKeyAlias": "bay.example",
            "Port": port or self.port, "ControlPath": "none",
        }  # fmt: skip
        named = [word for name, value in settings.items() for word in ("-o", f"{name}={value}")]
        return [program, "-F", "none", *named, *options]

    @property
    def there(self) -> str:
        """Account and address."""
        return f"{self.user}@127.0.0.1"

    def allow(self, line: str) -> None:
        """Let the key in by this line and no other."""
        key = (self.folder / "key.pub").read_text("utf-8")
        (self.folder / "authorized_keys").write_text(f"{line} {key}", "utf-8")


def printed_line(shop: Path) -> str:
    """What `hoistbook sshline` prints for the technician."""
    out = StringIO()
    with redirect_stdout(out):
        assert main(["--shop", str(shop), "sshline", BADGE]) == 0
    return out.getvalue().strip()


@contextmanager
def host(folder: Path, shop: Path, *, learner: bool = False, alive_s: int = 0) -> Generator[Host]:
    """Serve a shop over SSH until the end; the key is let in by the printed line.

    Args:
        learner: acts begin the learner, as they do in a shop.
        alive_s: seconds after which a silent line is asked whether it is there, and dropped after
            as many more; 0 never asks.
    """
    for name in ("host", "key"):
        words = ["ssh-keygen", "-q", "-t", "ed25519", "-N", "", "-C", name, "-f", folder / name]
        subprocess.run(words, check=True)
    host_key = (folder / "host.pub").read_text("utf-8")
    (folder / "known").write_text(f"bay.example {host_key}", "utf-8")
    port = free_port()
    (folder / "settings").write_text(
        SETTINGS.format(
            port=port,
            folder=folder,
            sftp=SFTP_SERVER,
            learner="on" if learner else "off",
            alive=alive_s,
        ),
        "utf-8",
    )
    with suppress(OSError):  # an ordinary user needs none
        SEPARATION.mkdir(mode=0o755, exist_ok=True)
    process = subprocess.Popen(
        [str(SSHD), "-D", "-f", str(folder / "settings"), "-E", str(folder / "log")],
        stdin=subprocess.DEVNULL, start_new_session=True,
    )  # fmt: skip
    try:
        made = Host(folder, port, shop, process)
        until(lambda: (folder / "log").exists() and "listening" in made.log, "sshd listening")
        made.allow(printed_line(shop))
        yield made
    finally:
        process.kill()
        process.wait()


def free_port() -> int:
    """A port of this machine on which nobody listens."""
    with socket.socket() as found:
        found.bind(("127.0.0.1", 0))
        return int(found.getsockname()[1])
