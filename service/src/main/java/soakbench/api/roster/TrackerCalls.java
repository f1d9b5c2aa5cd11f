package soakbench.api.roster;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.List;
import java.util.Map;
import java.util.Optional;
import java.util.function.Function;
import java.util.function.UnaryOperator;
import java.util.stream.Collectors;
import soakbench.api.http.JsonResponses;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.RequestBodies;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerFilter;
import soakbench.model.Tracker;
import soakbench.store.Roster;

/** The roster. */
public final class TrackerCalls {
  private static final String MERGE_PATCH = "application/merge-patch+json";

  private final Roster roster;

  public TrackerCalls(Roster roster) {
    this.roster = roster;
  }

  public void addTo(Routes routes) {
    routes
        .table("/api/trackers", this::all, TrackerFilter.LOT, TrackerFilter.RACK)
        .put("/api/trackers", this::putAll, "dry_run")
        .json("/api/trackers/{id}", this::one)
        .put("/api/trackers/{id}", this::put)
        .patch("/api/trackers/{id}", this::patch);
  }

  /**
   * What a roster changed, or would have: ids.
   *
   * @param differences what in particular, of those added and changed
   */
  record Changes(
      boolean dryRun,
      List<String> added,
      List<String> changed,
      List<String> unchanged,
      List<FieldDifference> differences) {}

  static ProblemException unknown(String id) {
    return new ProblemException(
        Problem.Kind.UNKNOWN_TRACKER,
        ("Tracker %s is not in the roster. GET /api/trackers lists those that are;"
                + " PUT /api/trackers/%s adds it.")
            .formatted(id, id));
  }

  private void all(Context ctx, ResponseFormat form) {
    TrackerFilter which = TrackerFilter.of(ctx);
    TrackerTable.TABLE.answer(
        ctx,
        form,
        "trackers",
        roster.all().stream().filter(t -> which.has(t.lot(), t.rack())).toList());
  }

  private Tracker one(Context ctx) {
    String id = ctx.pathParam("id");
    return (Tracker.isId(id) ? roster.find(id) : Optional.<Tracker>empty())
        .orElseThrow(() -> unknown(id));
  }

  private void put(Context ctx) {
    String id = ctx.pathParam("id");
    if (!Tracker.isId(id)) {
      throw new ProblemException(
          Problem.Kind.INVALID_REQUEST,
          TrackerFields.badId(id),
          List.of(Problem.Item.of(TrackerFields.ID, TrackerFields.badId(id))));
    }
    RequestBodies.requireMediaType(ctx, "application/json", "A tracker is taken");
    Tracker tracker = TrackerJson.set(Tracker.unknown(id), TrackerJson.members(ctx.bodyAsBytes()));
    ctx.status(roster.find(id).isPresent() ? 200 : 201);
    roster.put(tracker);
    JsonResponses.json(ctx, tracker);
  }

  /** A JSON merge patch (RFC 7396). */
  private void patch(Context ctx) {
    String id = one(ctx).id();
    if (!MERGE_PATCH.equals(ctx.contentType())) {
      RequestBodies.requireMediaType(ctx, "application/json", "A tracker is changed");
    }
    JsonNode members = TrackerJson.members(ctx.bodyAsBytes());
    Optional<Tracker> changed = roster.change(id, before -> TrackerJson.set(before, members));
    JsonResponses.json(ctx, changed.orElseThrow(() -> unknown(id)));
  }

  private void putAll(Context ctx) {
    RequestBodies.requireMediaType(ctx, "text/csv", "The roster is taken");
    boolean dryRun = QueryParameters.flag(ctx, "dry_run");
    Map<String, Tracker> present =
        roster.all().stream().collect(Collectors.toMap(Tracker::id, Function.identity()));
    UnaryOperator<Tracker> before = t -> present.getOrDefault(t.id(), Tracker.unknown(t.id()));
    List<Tracker> trackers =
        RosterCsv.read(ctx.bodyAsBytes(), id -> before.apply(Tracker.unknown(id)));
    Roster.Changes changes = roster.putAll(trackers, dryRun);
    List<FieldDifference> differences =
        trackers.stream()
            .flatMap(t -> FieldDifference.between(before.apply(t), t).stream())
            .toList();
    JsonResponses.json(
        ctx,
        new Changes(dryRun, changes.added(), changes.changed(), changes.unchanged(), differences));
  }
}
