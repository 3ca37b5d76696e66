"""Start of the command: prepare the process, run one command, leave."""

import gc
import os
import sys


def main() -> None:
    """Entry point of the command; ends the process."""
    gc.disable()  # a command lives for a moment: collecting costs more than it frees, while modules load above all
    # For matrices of a thousand rows threads gain nothing, and on a busy machine they wait for one another for seconds.
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    from subgraph.cli import run

    try:
        code = run(sys.argv[1:])
        sys.stdout.flush()
    except BrokenPipeError:  # whoever reads has seen enough
        code = 0
    except OSError as error:
        print(f"subgraph: the answer could not be written: {error.strerror}", file=sys.stderr)
        code = 2
    sys.stderr.flush()
    os._exit(code)  # nothing is left to put away; freeing the library record by record takes a tenth of an ask


if __name__ == "__main__":
    main()
