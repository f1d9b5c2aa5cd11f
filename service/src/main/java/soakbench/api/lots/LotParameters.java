package soakbench.api.lots;

import io.javalin.http.Context;
import java.util.ArrayList;
import java.util.Collection;
import java.util.HashSet;
import java.util.List;
import java.util.Set;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.lots.compare.Detectable;
import soakbench.lots.compare.Metric;
import soakbench.lots.compare.Metrics;
import soakbench.model.NearestName;

/** What a request says about lots and figures. */
final class LotParameters {
  static final String METRIC = "metric";
  static final String LOTS = "lots";
  static final String AT_C = "at_c";
  static final String DIFFERENCE = "difference";
  static final String RATIO = "ratio";

  /** More lots than this fit into no picture, and have as many pairs as nobody can read. */
  static final int MOST_LOTS = 8;

  private static final int LONGEST_QUOTED = 80;

  private LotParameters() {}

  /**
   * The figure asked for; the greatest coefficient where none is.
   *
   * @throws ProblemException 400 that names the nearest
   */
  static Metric metric(Context ctx) {
    String name = QueryParameters.text(ctx, METRIC);
    Metric metric = Metrics.byName().get(name == null ? Metrics.DEFAULT : name);
    if (metric == null) {
      throw QueryParameters.invalid(METRIC, unknownMetric(name));
    }
    return metric;
  }

  /** What to say of a figure that is none. */
  static String unknownMetric(String name) {
    String hint = NearestName.hint(name, Metrics.byName().keySet());
    return "There is no figure "
        + quoted(name)
        + (hint.isEmpty()
            ? "; the columns of GET /api/figures name them, as " + Metrics.DEFAULT + "."
            : hint);
  }

  /**
   * The lots asked for: one name a parameter, or several with commas between them.
   *
   * @param known all that there are
   * @throws ProblemException 400 that lists all that is wrong
   */
  static List<String> lots(Context ctx, Collection<String> known) {
    List<String> names = names(ctx.queryParams(LOTS), known);
    if (names.isEmpty()) {
      throw QueryParameters.invalid(
          LOTS, "Say which lots, as lots=A,B. GET /api/lots lists " + known.size() + " of them.");
    }
    if (names.size() > MOST_LOTS) {
      throw QueryParameters.invalid(
          LOTS,
          "lots names %d lots; at most %d are compared at once."
              .formatted(names.size(), MOST_LOTS));
    }
    List<Problem.Item> problems = new ArrayList<>();
    Set<String> seen = new HashSet<>();
    for (String name : names) {
      if (!known.contains(name)) {
        problems.add(Problem.Item.of(LOTS, unknownLot(name, known)));
      } else if (!seen.add(name)) {
        problems.add(Problem.Item.of(LOTS, "Lot " + quoted(name) + " comes twice; name it once."));
      }
    }
    if (!problems.isEmpty()) {
      throw new ProblemException(
          Problem.Kind.INVALID_REQUEST, "These lots can't be compared.", problems);
    }
    return names;
  }

  /** A name may hold commas itself. */
  private static List<String> names(List<String> given, Collection<String> known) {
    List<String> names = new ArrayList<>();
    for (String value : given) {
      List<String> parts = known.contains(value) ? List.of(value) : List.of(value.split(",", -1));
      parts.stream().map(String::strip).filter(n -> !n.isEmpty()).forEach(names::add);
    }
    return names;
  }

  /** What to say of a lot that is none. */
  static String unknownLot(String name, Collection<String> known) {
    String hint = NearestName.hint(quoted(name), known);
    return "There is no lot "
        + quoted(name)
        + (hint.isEmpty()
            ? "; GET /api/lots lists those that there are, by what the roster says of trackers."
            : hint);
  }

  private static String quoted(String name) {
    return name.length() > LONGEST_QUOTED ? name.substring(0, LONGEST_QUOTED) + "…" : name;
  }

  /** What difference somebody would like to be able to see. */
  static Detectable.Wanted wanted(Context ctx) {
    Double difference = above(ctx, DIFFERENCE, 0);
    Double ratio = above(ctx, RATIO, 1);
    return new Detectable.Wanted(
        difference, ratio == null ? Detectable.Wanted.DEFAULT.ratio() : ratio);
  }

  private static Double above(Context ctx, String name, double least) {
    String text = QueryParameters.text(ctx, name);
    if (text == null) {
      return null;
    }
    if (text.matches("[0-9]{1,9}(\\.[0-9]{1,12})?") && Double.parseDouble(text) > least) {
      return Double.parseDouble(text);
    }
    throw QueryParameters.invalid(
        name, name + "=" + quoted(text) + " must be a number above " + (int) least + ", like 1.5.");
  }
}
