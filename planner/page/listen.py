"""The socket the page listens on, bound before anything else is begun."""

import errno
import ipaddress
import socket
import sys

from planner.errors import InputError

PORT = 8476  # tried first, so that the browser knows the page again; else any that is free


def bound(host: str, port: int | None) -> socket.socket:
    """A socket that listens.

    Parameters
    ----------
    host : str
        A numeric address of this machine.
    port : int or None
        None: `PORT`, or another where that is taken.

    Raises
    ------
    InputError
        The host is not an address of this machine, or the port is taken or not allowed.
    """
    address = _address(host)
    try:
        return _bound(address, PORT if port is None else port)
    except OSError as error:
        if port is None and error.errno in (errno.EADDRINUSE, errno.EACCES):
            return _bound(address, 0)
        raise InputError(_why(error, host, port)) from error
    except OverflowError as error:
        msg = f"--port {port}: a port is a number from 1024 to 65535; leave it out for a free one"
        raise InputError(msg) from error


def is_loopback(host: str) -> bool:
    """Whether only this machine can speak to the address."""
    return _address(host).is_loopback


Address = ipaddress.IPv4Address | ipaddress.IPv6Address


def _address(host: str) -> Address:
    try:
        address = ipaddress.ip_address(host)
    except ValueError as error:
        msg = f"--host {host}: give this machine's address in numbers, such as 192.168.1.20"
        raise InputError(msg) from error
    if address.is_unspecified or address.is_multicast:
        msg = f"--host {host} would listen everywhere; give one address of this machine"
        raise InputError(msg)
    return address


def _bound(address: Address, port: int) -> socket.socket:
    family = socket.AF_INET if address.version == 4 else socket.AF_INET6
    listener = socket.socket(family, socket.SOCK_STREAM)
    try:
        if sys.platform == "win32":  # there the other option lets a stranger take the port over
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_EXCLUSIVEADDRUSE, 1)
        else:
            listener.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        listener.bind((str(address), port))
        listener.listen(128)
    except BaseException:
        listener.close()
        raise
    return listener


def _why(error: OSError, host: str, port: int | None) -> str:
    if error.errno == errno.EADDRINUSE:
        return f"--port {port} is taken by another program; choose another, or leave it out"
    if error.errno == errno.EACCES:
        return f"--port {port} is not allowed; choose one from 1024 to 65535, or leave it out"
    return f"{host} is no address of this machine ({error.strerror}); leave it out"
