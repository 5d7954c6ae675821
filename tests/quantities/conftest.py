"""Properties are tried without a clock: a busy machine is no failing property."""

from hypothesis import settings

settings.register_profile("unhurried", deadline=None)
settings.load_profile("unhurried")
