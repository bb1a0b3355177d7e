"""The only place that knows Litestar: requests come in, facts go to the sizing, answers go out."""
