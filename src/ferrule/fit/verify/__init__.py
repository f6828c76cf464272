"""Re-check a fitted week from the plain data. Shares no code with the model that made it; runs in production."""

from ferrule.fit.verify.verify import verify

__all__ = ["verify"]
