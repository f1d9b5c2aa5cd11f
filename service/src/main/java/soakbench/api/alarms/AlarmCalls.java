package soakbench.api.alarms;

import com.fasterxml.jackson.databind.JsonNode;
import io.javalin.http.Context;
import java.util.List;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.RequestBodies;
import soakbench.api.http.ResponseFormat;
import soakbench.api.http.Routes;
import soakbench.api.http.Table;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.live.EventClock;
import soakbench.live.alarm.AlarmRegistry;
import soakbench.model.Alarm;

/** The alarms, and their acknowledgement. */
public final class AlarmCalls {
  private static final int LONGEST_NAME = 64;

  private final AlarmRegistry registry;
  private final TrackerNames names;
  private final Table<Alarm> table;
  private final EventClock clock;

  public AlarmCalls(AlarmRegistry registry, TrackerNames names, EventClock clock) {
    this.registry = registry;
    this.names = names;
    this.table = AlarmTable.of(names);
    this.clock = clock;
  }

  public void addTo(Routes routes) {
    routes
        .table(
            "/api/alarms",
            this::all,
            "open",
            "state",
            TrackerFilter.LOT,
            TrackerFilter.RACK,
            TrackerFilter.SINCE)
        .post("/api/alarms/{id}/acknowledgement", Routes.json(this::acknowledge));
  }

  private void all(Context ctx, ResponseFormat form) {
    boolean openOnly = QueryParameters.flag(ctx, "open");
    TrackerFilter which = TrackerFilter.of(ctx);
    Boolean open = openOnly ? Boolean.TRUE : state(ctx);
    List<Alarm> alarms =
        registry.all().stream()
            .filter(a -> open == null || open == a.open())
            .filter(a -> passes(a, which) && (a.open() || which.hasTime(a.untilUs())))
            .toList();
    table.answer(ctx, form, "alarms", alarms);
  }

  /**
   * Those about a whole rack pass as what lies there; those about the service only an empty filter.
   */
  private boolean passes(Alarm alarm, TrackerFilter which) {
    String rack = alarm.cause().about().rack();
    return alarm.tracker() == null && rack != null
        ? which.has(null, rack)
        : which.hasTracker(alarm.tracker(), names);
  }

  /** Whether those that hold are wanted, or those that ended; null for both. */
  private static Boolean state(Context ctx) {
    String state = QueryParameters.text(ctx, "state");
    if (state == null) {
      return null;
    }
    if (!state.equals("open") && !state.equals("ended")) {
      throw QueryParameters.invalid("state", "state=" + state + " must be open or ended.");
    }
    return state.equals("open");
  }

  private Object acknowledge(Context ctx) {
    String id = ctx.pathParam("id");
    return registry
        .acknowledge(id, by(ctx), clock.runningUs())
        .map(table::json)
        .orElseThrow(
            () ->
                new ProblemException(
                    Problem.Kind.UNKNOWN_ALARM,
                    "No alarm " + id + " is listed. GET /api/alarms lists them."));
  }

  /** Who acknowledges it; null where the body is empty or does not say. */
  private static String by(Context ctx) {
    JsonNode by =
        RequestBodies.optional(
                ctx,
                "Who has seen the alarm is taken",
                "who has seen it",
                "none, or {\"by\":\"NAME\"}")
            .path("by");
    if (by.isMissingNode() || by.isNull()) {
      return null;
    }
    String name = by.isTextual() ? by.textValue().strip() : "";
    if (name.isEmpty() || name.length() > LONGEST_NAME || !isPlain(name)) {
      throw new ProblemException(
          Problem.Kind.INVALID_CONTENT,
          "The alarm was not acknowledged: by is no name.",
          List.of(
              Problem.Item.of(
                  "by", "by must be a name of 1 to " + LONGEST_NAME + " printable characters.")));
    }
    return name;
  }

  private static boolean isPlain(String name) {
    return name.codePoints()
        .noneMatch(c -> Character.isISOControl(c) || Character.getType(c) == Character.FORMAT);
  }
}
