"""Plans that the laws share."""

from helpers.plan_fixtures import few, found, mild, whole  # noqa: F401
