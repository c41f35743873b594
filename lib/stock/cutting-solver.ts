import type { WholeAnswer, WholeModel, WholeSolver } from "./cutting-exact";

/**
 * HiGHS (Huangfu and Hall 2018) as a solver of cutting plans. Its 3.5 MB are fetched when this is called, and by nothing
 * else: an entrance of its own, so that no browser loads it.
 *
 * @example solveCutting(problem, { timeLimitS: 5, solver: await loadCuttingSolver() })
 */
export async function loadCuttingSolver(): Promise<WholeSolver> {
  const { default: load } = await import("highs");
  const highs = await load();
  const { modelStatus, variableType } = highs.constants;
  return (model, timeLimitS): WholeAnswer =>
    highs.withModel(
      {
        ...shapeOf(model),
        colCost: [...model.costs],
        colLower: model.costs.map(() => 0),
        colUpper: [...model.most],
        rowLower: model.rows.map(({ least }) => least),
        rowUpper: model.rows.map(({ most }) => most),
        matrix: { format: "csr", ...shapeOf(model), ...matrixOf(model) },
        integrality: model.costs.map(() => variableType.integer),
      },
      (solved): WholeAnswer => {
        solved.options.set({
          output_flag: false,
          time_limit: timeLimitS,
          mip_rel_gap: 0,
          mip_abs_gap: 1e-7,
        });
        solved.run();
        const status = solved.getModelStatus();
        const isInfeasible =
          status === modelStatus.infeasible || status === modelStatus.unboundedOrInfeasible;
        const isFound = Number(solved.info.get("primal_solution_status")) === 2;
        return {
          status:
            status === modelStatus.optimal ? "OPTIMAL" : isInfeasible ? "INFEASIBLE" : "STOPPED",
          values: isFound ? [...solved.getSolution().colValue] : null,
          bound: Number(solved.info.get("mip_dual_bound")),
        };
      },
    );
}

const shapeOf = ({ rows, costs }: WholeModel) => ({ numRows: rows.length, numCols: costs.length });

/** The rows one after another, as sparse matrices are passed on. */
function matrixOf({ rows }: WholeModel) {
  const starts = [0];
  for (const { terms } of rows) starts.push((starts.at(-1) ?? 0) + terms.length);
  return {
    starts,
    indices: rows.flatMap(({ terms }) => terms.map(([variable]) => variable)),
    values: rows.flatMap(({ terms }) => terms.map(([, by]) => by)),
  };
}
