#!/bin/sh
# Ratio of our cell updates a second to those of a general-purpose compiled package, on the same shock tube, one core
# each, in one run: Sod's tube, 200 cells, Courant number 0.9, van Leer's limiter and Roe's solver with entropy fix
# there. Needs Python with venv, a Fortran compiler and the package registry; writes only below the target folder.
set -eu
here=$(cd "$(dirname "$0")/../../.." && pwd)
room=${CARGO_TARGET_DIR:-$here/target}/against-a-package
cells=${1:-200}
if ! "$room/bin/python" -c "import clawpack" 2> /dev/null; then
    command -v gfortran > /dev/null || { echo "A Fortran compiler (gfortran) is needed to build the package." >&2; exit 1; }
    python3 -m venv "$room"
    "$room/bin/pip" --quiet install numpy clawpack
fi
cat > "$room/tube.py" <<'PY'
import sys, time
import numpy as np
from clawpack import pyclaw, riemann

def tube(cells):
    solver = pyclaw.ClawSolver1D(riemann.euler_with_efix_1D)
    solver.kernel_language = "Fortran"
    solver.num_waves, solver.num_eqn = 3, 3
    solver.bc_lower[0] = solver.bc_upper[0] = pyclaw.BC.extrap
    solver.limiters = pyclaw.limiters.tvd.vanleer
    solver.cfl_desired, solver.cfl_max, solver.dt_initial = 0.9, 1.0, 1e-4
    domain = pyclaw.Domain([pyclaw.Dimension(0.0, 1.0, cells, name="x")])
    state = pyclaw.State(domain, 3)
    state.problem_data["gamma"], state.problem_data["gamma1"] = 1.4, 0.4
    x = domain.grid.x.centers
    state.q[0, :] = np.where(x < 0.5, 1.0, 0.125)
    state.q[1, :] = 0.0
    state.q[2, :] = np.where(x < 0.5, 1.0, 0.1) / 0.4
    return solver, pyclaw.Solution(state, domain)

cells, best = int(sys.argv[1]), 0.0
for _ in range(20):
    solver, solution = tube(cells)
    solver.setup(solution)
    start = time.perf_counter()
    status = solver.evolve_to_time(solution, 0.2)
    best = max(best, status["numsteps"] * cells / (time.perf_counter() - start))
print(f"{best / 1e6:.3f}")
PY
theirs=$(cd "$room" && bin/python tube.py "$cells" | tail -1)
ours=$(cd "$here" && cargo bench -q -p gas --bench shock_tube -- "$cells" | sed -n 's/.*: \([0-9.]*\) million.*/\1/p')
echo "package: $theirs million cell updates/s; ours: $ours; ratio $(echo "$ours $theirs" | awk '{ printf "%.1f", $1 / $2 }')"
