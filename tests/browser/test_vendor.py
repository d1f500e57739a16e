"""Files from elsewhere are the ones that the list beside them names."""

import hashlib
import re

from tests.browser.gallery import ROOT

VENDOR = ROOT / "static" / "vendor"
README = (VENDOR / "README").read_text(encoding="utf-8")


def test_each_vendored_file_has_the_hash_that_the_readme_states() -> None:
    files = re.findall(r"^file +(\S+)", README, re.MULTILINE)
    hashes = re.findall(r"^sha256 +([0-9a-f]{64})$", README, re.MULTILINE)
    found = [hashlib.sha256((VENDOR / name).read_bytes()).hexdigest() for name in files]
    assert found == hashes
    kept = [path.name for path in VENDOR.iterdir() if path.suffix in (".js", ".css")]
    assert sorted(kept) == sorted(files)
