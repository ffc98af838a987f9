"""Run the command line with `python -m slotwright`."""

from slotwright.cli import main

if __name__ == "__main__":
    main()
