"""Plans that the tests of the bench share."""

from helpers.plan_fixtures import mild, whole  # noqa: F401
