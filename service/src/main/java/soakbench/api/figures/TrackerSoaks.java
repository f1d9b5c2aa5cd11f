package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.live.deriving.DerivationRunner;
import soakbench.lots.UnitSoak;
import soakbench.model.Tracker;
import soakbench.store.derived.DerivedFigures;

/**
 * The soaks, with their figures, of the tracker that a request names.
 *
 * @param runner derives the figures; knows what failed
 */
record TrackerSoaks(DerivedFigures figures, DerivationRunner runner) {
  private static final String NO_SOAK =
      "it never had a soak, or its first one began within the last minute";

  /**
   * All of them, those that are left out too, the newest first.
   *
   * @throws ProblemException 404 if there are none
   */
  List<UnitSoak> of(Context ctx) {
    String id = ctx.pathParam("id");
    List<UnitSoak> soaks = Tracker.isId(id) ? figures.of(id) : List.of();
    if (soaks.isEmpty()) {
      throw new ProblemException(
          Problem.Kind.UNKNOWN_TRACKER,
          "No figures of tracker %s are kept: %s. GET /api/figures lists those that have some."
              .formatted(id, runner.failureOf(id).orElse(NO_SOAK)));
    }
    return soaks;
  }
}
