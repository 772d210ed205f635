"""`python3 -m site_build`: see `site_build.commands`. This file must parse on any Python 3."""

import sys

if sys.version_info < (3, 11):  # noqa: UP036 - the reason why this file exists
    sys.exit("Brinebook needs Python 3.11 or newer; this is %d.%d." % sys.version_info[:2])  # noqa: UP031

from site_build.commands import main

if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
