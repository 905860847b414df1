"""Etching baths of hydrochloric acid, hydrogen peroxide and water: what a mixture will do before it is poured."""
