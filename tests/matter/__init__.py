"""Tests of the room `matter`: transcription, validation and law, each said in its comment."""
