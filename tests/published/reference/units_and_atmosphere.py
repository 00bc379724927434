"""US Standard Atmosphere 1976 below 11 km, and the worked figures of vacuum_physics.json."""

import math

R_STAR, GRAVITY, MOLAR_MASS, RADIUS = 8314.32, 9.80665, 28.9644, 6356766.0
EXPONENT = GRAVITY * MOLAR_MASS / (R_STAR * 0.0065)


def pressure(geopotential):
    return 101325 * (1 - 0.0065 * geopotential / 288.15) ** EXPONENT


print("exponent", EXPONENT)
for kind, metres in (("500 m", 500), ("1500 m", 1500), ("5000 ft", 1524), ("10000 ft", 3048)):
    geometric = RADIUS * metres / (RADIUS + metres)
    print(kind, pressure(metres) / 100, "hPa; as geometric height", pressure(geometric) / 100)
print("8 inHg", 8 * 3.386389, "kPa", 8 * 3386.389 / 133.322387415, "mmHg", 8 * 3386.389 / 6894.757, "psi")
print("pumping speed", 1000 / 10 * math.log(1000 / 200))
print("recovery", 15 + (101.325 - 15) * math.exp(-0.5 * 8 / 4), "kPa")
print("altitude ratio", 24 / 29.92 * 22, "inHg")
print("equivalent", 29.92 - 29.92 / (21.7 / (21.7 - 15)), "inHg")
