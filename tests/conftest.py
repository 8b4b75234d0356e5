"""What every test starts from."""

from __future__ import annotations

import os

# Whoever runs the tests may work in another language; they read English unless they ask for one.
os.environ["LANGUAGE"] = "en"
