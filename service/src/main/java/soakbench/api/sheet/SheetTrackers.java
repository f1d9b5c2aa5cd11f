package soakbench.api.sheet;

import java.util.List;
import java.util.TreeSet;
import java.util.function.Predicate;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.live.arrival.LiveVerdicts;
import soakbench.model.Tracker;

/**
 * The trackers that a spreadsheet may ask for: those that are listed, heard or were heard.
 *
 * @param live what is heard now
 * @param known whether one that is neither listed nor heard was heard before; may ask the database
 */
public record SheetTrackers(TrackerNames names, LiveVerdicts live, Predicate<String> known) {

  boolean has(String id) {
    return Tracker.isId(id) && (names.lists(id) || isHeard(id) || known.test(id));
  }

  boolean isHeard(String id) {
    return live.readiness(id).isPresent();
  }

  /** Those that are listed or heard now, by id. */
  List<String> all(TrackerFilter which) {
    TreeSet<String> ids = new TreeSet<>();
    live.readiness().forEach(verdict -> ids.add(verdict.tracker()));
    names.all().forEach(listed -> ids.add(listed.id()));
    return ids.stream().filter(id -> which.hasTracker(id, names)).toList();
  }
}
