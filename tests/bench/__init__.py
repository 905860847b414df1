"""Tests of the room `bench`: transcription, validation and law, each said in its comment."""
