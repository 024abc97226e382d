#!/usr/bin/env python3
"""Sea water by an independent library, for core's tests: seawater_gsw.py salinity|water > TABLE

The library is TEOS-10's own, in Debian: apt-get install python3-gsw. Run once; the tables are committed.
"""
import sys

import gsw

TEMPERATURES_C = [0, 2.5, 5, 10, 15, 17.5, 20, 22.5, 25, 27.5, 30, 32.5, 35, 37.5, 40]


def head(table, file, columns):
    print(f"# {columns}")
    print(f"# made by: python3 tests/published/seawater_gsw.py {table} > tests/published/{file}")
    print(f"# with gsw {gsw.__version__}, at the surface (pressure 0); temperatures are ITS-90")


def salinity():
    """Practical salinity by SP_from_C, as far as the scale goes."""
    head("salinity", "salinity_gsw.csv", "practical salinity from conductivity: SP_from_C")
    print("conductivity_ms_cm,temperature_c,salinity")
    for t in TEMPERATURES_C:
        for c in [0, 0.05, 0.2, 0.5, 1, 2, 3, 4, 5, 7.5, 10, 15, 20, 25, 30, 35, 40, 45, 50, 55, 60, 65, 70, 75, 80, 85]:
            s = float(gsw.SP_from_C(c, t, 0))
            if s <= 42:
                print(f"{c},{t},{s:.8f}")


def water():
    """Density by rho_t_exact of reference-composition sea water; oxygen in balance with the air by O2sol_SP_pt."""
    head("water", "seawater_gsw.csv", "density: rho_t_exact(SR_from_SP(S), t, 0); oxygen in balance with moist air of "
         "101.325 kPa: O2sol_SP_pt(S, t), by the fit of Garcia & Gordon 1992")
    print("temperature_c,salinity,density_kg_m3,oxygen_umol_kg")
    for t in TEMPERATURES_C:
        for s in [0, 1, 2.5, 5, 7.5, 10, 15, 20, 25, 30, 35, 40]:
            density = float(gsw.rho_t_exact(gsw.SR_from_SP(float(s)), t, 0))
            print(f"{t},{s},{density:.6f},{float(gsw.O2sol_SP_pt(float(s), t)):.6f}")


{"salinity": salinity, "water": water}[sys.argv[1]]()
