"""One program at a time at a site: a lock beside its file."""

from pathlib import Path

from filelock import FileLock, Timeout

from planner.errors import OutputError, SiteError


class SiteLock:
    """Holds a site file for this process until it is given free, or the process is gone.

    The lock is the system's own on a hidden file beside the site file. That file stays: taken
    away, it could be locked by two at once.

    Parameters
    ----------
    site : Path
        The site file; it need not be there yet, its folder must be.

    Raises
    ------
    SiteError
        Another process holds it.
    OutputError
        The folder can't be written.
    """

    def __init__(self, site: Path) -> None:
        # One program in one process may open a site, close it, and open it again from elsewhere.
        self._lock = FileLock(site.with_name(f".{site.name}.lock"), timeout=0, thread_local=False)
        try:
            self._lock.acquire()
        except Timeout as error:
            msg = (
                f"{site.name} is open already in another window of headfall; go on there, "
                "or end that one first"
            )
            raise SiteError(msg) from error
        except OSError as error:
            msg = (
                f"{site.name} can't be opened for changes: its folder {site.parent} can't be "
                f"written ({error.strerror}); copy the site to a folder of your own"
            )
            raise OutputError(msg) from error

    def free(self) -> None:
        """Give the site free."""
        self._lock.release()
