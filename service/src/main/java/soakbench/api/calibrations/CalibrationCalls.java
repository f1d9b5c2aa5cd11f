package soakbench.api.calibrations;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Collections;
import java.util.List;
import java.util.Optional;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.RequestBodies;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.Times;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.live.calibration.CalibrationDeriver;
import soakbench.model.Soak;
import soakbench.model.Tracker;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.SoakArchive;
import soakbench.store.SoakQuery;
import soakbench.store.derived.DerivedCalibrations;

/** Calibrations that were detected or reported, and their checks. */
public final class CalibrationCalls {
  private static final String BODY = "none, or {\"at\":\"2026-03-01T08:00:00Z\"}";

  private final DerivedCalibrations marks;
  private final SoakArchive archive;
  private final CalibrationDeriver deriver;
  private final TrackerNames names;
  private final Table<Calibration> table;

  public CalibrationCalls(Database database, CalibrationDeriver deriver, TrackerNames names) {
    this.marks = database.calibrationTable();
    this.archive = database.archive();
    this.deriver = deriver;
    this.names = names;
    this.table = CalibrationTable.of(names::of);
  }

  public void addTo(Routes routes) {
    routes
        .table(
            "/api/calibrations",
            this::ofAll,
            "all",
            "undone",
            TrackerFilter.LOT,
            TrackerFilter.RACK,
            TrackerFilter.SINCE)
        .table("/api/trackers/{id}/calibrations", this::all)
        .post("/api/trackers/{id}/calibrations", Routes.json(this::report))
        .json("/api/trackers/{id}/calibrations/{at}", this::one)
        .delete("/api/trackers/{id}/calibrations/{at}", this::undo);
  }

  private void ofAll(Context ctx, ResponseFormat form) {
    boolean undone = QueryParameters.flag(ctx, "undone");
    TrackerFilter which = TrackerFilter.of(ctx);
    String reason = deriver.runner().status().reason();
    List<Calibration> listed =
        QueryParameters.flag(ctx, "all") ? marks.all(undone) : marks.newest(undone);
    answer(ctx, form, listed.stream().filter(c -> passes(c, which)).toList(), reason);
  }

  private boolean passes(Calibration calibration, TrackerFilter which) {
    return which.hasTracker(calibration.tracker(), names) && which.hasTime(calibration.atUs());
  }

  private void all(Context ctx, ResponseFormat form) {
    newestSoak(ctx);
    String id = ctx.pathParam("id");
    String reason = deriver.runner().failureOf(id).orElse(null);
    answer(ctx, form, marks.of(id), reason);
  }

  /**
   * @param reason why some may be missing or old; null where none are
   */
  private void answer(Context ctx, ResponseFormat form, List<Calibration> listed, String reason) {
    table.answer(
        ctx, form, "calibrations", listed, null, Collections.singletonMap("reason", reason));
  }

  private Object one(Context ctx) {
    newestSoak(ctx);
    return table.json(found(ctx));
  }

  private Calibration found(Context ctx) {
    long atUs = time(ctx.pathParam("at"), "The address");
    return marks.of(ctx.pathParam("id")).stream()
        .filter(c -> c.atUs() == atUs)
        .findFirst()
        .orElseThrow(() -> unknown(ctx));
  }

  private static ProblemException unknown(Context ctx) {
    String id = ctx.pathParam("id");
    return new ProblemException(
        Problem.Kind.UNKNOWN_CALIBRATION,
        "Tracker %s has no calibration mark of %s. GET /api/trackers/%s/calibrations lists its marks."
            .formatted(id, ctx.pathParam("at"), id));
  }

  private Object report(Context ctx) {
    Soak newest = newestSoak(ctx);
    Long given = at(ctx);
    long atUs = given == null ? newest.endUs() : given;
    Soak soak = archive.soakAt(newest.tracker(), atUs).orElseThrow(() -> outside(newest, atUs));
    Calibration mark = deriver.report(soak.id(), atUs);
    String id = newest.tracker();
    ctx.status(201)
        .header("Location", "/api/trackers/" + id + "/calibrations/" + Times.text(mark.atUs()));
    return table.json(mark);
  }

  private ProblemException outside(Soak newest, long atUs) {
    String why =
        atUs > newest.endUs()
            ? "lies after its newest sample, of " + Times.text(newest.endUs())
            : "lies in no soak of it; the newest began at " + Times.text(newest.startUs());
    return new ProblemException(
        Problem.Kind.INVALID_CONTENT,
        "A calibration of %s at %s can't be noted: that time %s. Leave out at for now."
            .formatted(newest.tracker(), Times.text(atUs), why),
        List.of(Problem.Item.of("at", "It " + why + ".")));
  }

  private void undo(Context ctx) {
    newestSoak(ctx);
    Calibration mark = found(ctx);
    if (!deriver.undo(mark.soak(), mark.atUs())) {
      throw unknown(ctx);
    }
    ctx.status(204);
  }

  /**
   * @throws ProblemException 404 if it never had a soak
   */
  private Soak newestSoak(Context ctx) {
    String id = ctx.pathParam("id");
    Optional<Soak> newest =
        Tracker.isId(id)
            ? archive.soaks(new SoakQuery(id, null, null, null, null, null, 1)).stream().findFirst()
            : Optional.empty();
    return newest.orElseThrow(
        () ->
            new ProblemException(
                Problem.Kind.UNKNOWN_TRACKER,
                "Tracker " + id + " never had a soak. GET /api/soaks lists the soaks."));
  }

  /** When it was calibrated; null for now. */
  private static Long at(Context ctx) {
    JsonNode given = RequestBodies.optional(ctx, "A calibration is taken", "a calibration", BODY);
    List<Problem.Item> unknown = new ArrayList<>();
    given
        .fieldNames()
        .forEachRemaining(
            name ->
                unknown.add(Problem.Item.of(name, "It is not known here; the only one is at.")));
    unknown.removeIf(item -> item.field().equals("at"));
    if (!unknown.isEmpty()) {
      throw new ProblemException(
          Problem.Kind.INVALID_CONTENT, "A calibration has only the member at.", unknown);
    }
    JsonNode at = given.path("at");
    if (at.isMissingNode() || at.isNull()) {
      return null;
    }
    return time(at.isTextual() ? at.textValue() : at.toString(), "at");
  }

  private static long time(String text, String what) {
    return Times.parse(text)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.INVALID_REQUEST,
                    what
                        + " has the time "
                        + text
                        + ", which is none; write it like 2026-03-01T08:00:00Z."));
  }
}
