"""Times what numpy needs for the rank, singular values and least squares of the matrices in a folder.

For each `NAME.matrix` (rows x columns of doubles, row by row, after two 64-bit counts) and `NAME.load`: one line,
the name and the median of the processor seconds of one thread.
"""

import sys
import time
from pathlib import Path

import numpy as np


def read(path: Path) -> tuple[np.ndarray, np.ndarray]:
    raw = path.read_bytes()
    rows, columns = np.frombuffer(raw[:16], dtype="<u8")
    matrix = np.frombuffer(raw[16:], dtype="<f8").reshape(int(rows), int(columns))
    return np.ascontiguousarray(matrix), np.frombuffer(path.with_suffix(".load").read_bytes(), dtype="<f8")


def work(matrix: np.ndarray, load: np.ndarray) -> None:
    np.linalg.svd(matrix, compute_uv=False)
    np.linalg.matrix_rank(matrix)
    np.linalg.lstsq(matrix, -load, rcond=1e-9)


def main() -> None:
    for path in sorted(Path(sys.argv[1]).glob("*.matrix")):
        matrix, load = read(path)
        work(matrix, load)
        spent, until = [], time.perf_counter() + 1.0
        while time.perf_counter() < until:
            start = time.thread_time()
            work(matrix, load)
            spent.append(time.thread_time() - start)
        print(path.stem, f"{np.median(spent):.9f}")


main()
