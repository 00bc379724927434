"""Normal tails and quantiles with mpmath 1.3.0, as statistics-distributions.test.ts holds them."""

from mpmath import findroot, log, mp, mpf, ncdf, nstr

mp.dps = 40

for x in ["0.00195", "0.998", "2.5019", "4.9981", "7.998", "9.25"]:
    print("upper tail", x, nstr(ncdf(-mpf(x)), 17))
for p, near in [("1e-300", -37), ("1e-12", -7), ("0.003", -2.7), ("0.3", -0.5)]:
    print("quantile", p, nstr(findroot(lambda z: log(ncdf(z) / mpf(p)), near), 17))
