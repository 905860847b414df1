"""Lets every test import the scalar second model of the bath, which stands beside this file."""

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parent))
