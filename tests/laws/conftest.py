"""Plans that the laws share."""

from helpers.plan_fixtures import mild, mixable_plans, refused_plans, whole  # noqa: F401
