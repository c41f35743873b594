import type { MipAnswer, MipSolver } from "./mip";

/**
 * HiGHS (Huangfu and Hall 2018) as a solver. Its 3.5 MB are fetched when this is called, and by nothing else.
 * @example await solveExactly(board, { timeLimitS: 60, solver: await loadSolver() })
 */
export async function loadSolver(): Promise<MipSolver> {
  const { default: load } = await import("highs");
  const highs = await load();
  const { modelStatus, variableType } = highs.constants;
  return (mip, timeLimitS): MipAnswer => {
    const { starts, indices, values } = mip.matrix();
    const shape = { numRows: mip.rowLower.length, numCols: mip.variableCount };
    return highs.withModel(
      {
        ...shape,
        colCost: mip.costs,
        colLower: mip.lower,
        colUpper: mip.upper,
        rowLower: mip.rowLower,
        rowUpper: mip.rowUpper,
        matrix: { format: "csr", ...shape, starts, indices, values },
        integrality: mip.isWhole.map((whole) =>
          whole ? variableType.integer : variableType.continuous,
        ),
      },
      (model): MipAnswer => {
        model.options.set({
          output_flag: false,
          time_limit: timeLimitS,
          mip_rel_gap: 0,
          mip_abs_gap: 1e-5,
        });
        model.run();
        const status = model.getModelStatus();
        const isOptimal = status === modelStatus.optimal;
        const isInfeasible =
          status === modelStatus.infeasible || status === modelStatus.unboundedOrInfeasible;
        const found = Number(model.info.get("primal_solution_status")) === 2;
        return {
          status: isOptimal ? "OPTIMAL" : isInfeasible ? "INFEASIBLE" : "STOPPED",
          values: found ? [...model.getSolution().colValue] : null,
          bound: Number(model.info.get("mip_dual_bound")),
        };
      },
    );
  };
}
