"""`python -m plumbtrue` is the command `plumbtrue`."""

from plumbtrue.cli.main import main

main()
