"""``python -m ramwright`` is the ``ramwright`` command."""

from ramwright.app import main

if __name__ == "__main__":
    main()
