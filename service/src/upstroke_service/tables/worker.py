"""What a worker of a cluster on this machine does when it begins."""

import signal


def dask_setup(_worker: object) -> None:
    """Leave an interruption from the terminal, which all processes get, to the one that ends the workers."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
