# Draws a fixed count from every sample of a sheet again and again with numpy, and does nothing else: no names, no
# metrics, no scores. Samples without more animals than that are not drawn from. Needs numpy and pandas.
#   python3 tests/benchmarks/peer-numpy-draws.py SHEET OUT ANIMALS DRAWS marginals|count
import sys

import numpy
import pandas

sheet, out, animals, draws, method = sys.argv[1], sys.argv[2], int(sys.argv[3]), int(sys.argv[4]), sys.argv[5]
kinds = {"sample_id": "category", "taxon": "category", "count": "int64"}
rows = pandas.read_csv(sheet, usecols=list(kinds), dtype=kinds)
# One number for each pair of sample and taxon; in ascending order those of a sample stand together.
taxa = len(rows["taxon"].cat.categories)
pairs = rows["sample_id"].cat.codes.to_numpy().astype(numpy.int64) * taxa + rows["taxon"].cat.codes.to_numpy()
piles, pile_of = numpy.unique(pairs, return_inverse=True)
counts = numpy.bincount(pile_of, weights=rows["count"].to_numpy()).astype(numpy.int64)
starts = numpy.flatnonzero(numpy.diff(piles // taxa)) + 1
random = numpy.random.default_rng(1)
means, deviations = [], []
for sample in numpy.split(counts, starts):
    if sample.sum() > animals:
        drawn = random.multivariate_hypergeometric(sample, animals, size=draws, method=method)
        met = (drawn > 0).sum(axis=1)
    else:
        met = numpy.full(draws, len(sample))
    means.append(met.mean())
    deviations.append(met.std(ddof=1))
results = {"sample_id": rows["sample_id"].cat.categories, "mean_taxa": means, "sd_taxa": deviations}
pandas.DataFrame(results).to_csv(out, index=False)
