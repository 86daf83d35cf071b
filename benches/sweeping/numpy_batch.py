"""Processor time of numpy's batched singular values of matrices, and how far their smallest are from ours."""

import sys
import time
from pathlib import Path

import numpy

folder, count = Path(sys.argv[1]), int(sys.argv[2])
columns = numpy.fromfile(folder / "columns", "<f8").reshape(-1, count, 6)
ours = numpy.fromfile(folder / "values", "<f8")
matrices = numpy.ascontiguousarray(columns.transpose(0, 2, 1))
numpy.linalg.svd(matrices[:100], compute_uv=False)
begun = time.process_time()
values = numpy.linalg.svd(matrices, compute_uv=False)
spent = time.process_time() - begun
print(spent, abs(values[:, -1] - ours).max())
