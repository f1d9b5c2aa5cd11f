package soakbench.api.lots;

import io.javalin.http.Context;
import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.stream.DoubleStream;
import java.util.stream.IntStream;
import org.hipparchus.stat.StatUtils;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Routes;
import soakbench.api.http.TrackerNames;
import soakbench.lots.NewestCurve;
import soakbench.lots.TrackerCurves;
import soakbench.lots.WarmUpTrace;
import soakbench.lots.compare.CurveBand;
import soakbench.model.Axes;
import soakbench.store.Database;

/** Curves of lots' units on common temperatures and minutes, to be drawn over one another. */
public final class CurveCalls {
  private static final String POINTS = "points";
  private static final String MINUTES = "minutes";
  private static final int S_PER_MIN = 60;

  /** Finer than a pixel, and than any of this is known: full numbers would be twice as long. */
  private static final double BIAS_STEP_DPS = 1e-6;

  private static final double SHARE_STEP = 1e-4;

  /** More lines of a lot can't be told apart, and take as long again to be read. */
  private static final int MOST_UNITS = 100;

  private final LotSource source;
  private final Database database;
  private final TrackerNames names;

  public CurveCalls(Database database, TrackerNames names) {
    this.source = new LotSource(database, names, ZoneId.systemDefault());
    this.database = database;
    this.names = names;
  }

  public void addTo(Routes routes) {
    routes.json(
        "/api/lot-curves", this::all, LotParameters.LOTS, LotParameters.AT_C, POINTS, MINUTES);
  }

  /**
   * The whole answer.
   *
   * @param zeroAtC where all bias curves are zero, degC; null where no unit has one
   */
  record Curves(Double zeroAtC, double[] temperaturesC, double[] minutes, List<OfLot> lots) {}

  /**
   * One lot.
   *
   * @param leftOff units beyond those listed
   */
  record OfLot(String lot, List<Band> toleranceBands, List<OfUnit> units, int leftOff) {}

  /** Between what limits one axis's curves of a lot lie. */
  record Band(String axis, List<Double> lowDps, List<Double> highDps, String reason) {}

  /** One axis's bias, as a difference, at each temperature. */
  record OfAxis(String axis, List<Double> differenceDps) {}

  /** One unit. */
  record OfUnit(String tracker, String name, Bias bias, WarmUp warmUp) {}

  /** A unit's bias curves; or why there are none. */
  record Bias(String soak, List<OfAxis> axes, String reason) {}

  /** How a unit warmed up; or why that is not known. */
  record WarmUp(String soak, Double plateauC, List<Double> shares, String reason) {}

  /** On what all curves are given. */
  private record Grid(Double atC, double[] temperaturesC, int stepS, int count) {}

  private Curves all(Context ctx) {
    Double atC = QueryParameters.celsius(ctx, LotParameters.AT_C);
    int points = QueryParameters.count(ctx, POINTS, 41, 201, 2);
    int minutes = QueryParameters.count(ctx, MINUTES, 60, 600, 5);
    List<String> lots = LotParameters.lots(ctx, source.listed().keySet());
    List<List<TrackerCurves>> units = lots.stream().map(source::curves).toList();
    List<TrackerCurves> every = units.stream().flatMap(List::stream).toList();
    int stepS = Math.max(1, minutes * S_PER_MIN / (points - 1));
    Grid grid =
        new Grid(atC == null ? usual(every) : atC, temperatures(every, points), stepS, points);
    List<OfLot> answered = new ArrayList<>();
    for (int i = 0; i < lots.size(); i++) {
      answered.add(lot(lots.get(i), units.get(i), grid));
    }
    double[] at =
        IntStream.range(0, points).mapToDouble(i -> (double) i * stepS / S_PER_MIN).toArray();
    return new Curves(grid.atC, grid.temperaturesC, at, answered);
  }

  /** Where units are measured: the median of their own temperatures. */
  private static Double usual(List<TrackerCurves> units) {
    double[] own =
        units.stream()
            .map(u -> u.figures().operatingC())
            .filter(c -> c != null)
            .mapToDouble(Double::doubleValue)
            .toArray();
    return own.length == 0 ? null : StatUtils.percentile(own, 50);
  }

  private static double[] temperatures(List<TrackerCurves> units, int points) {
    List<NewestCurve> curves = units.stream().flatMap(u -> NewestCurve.of(u).stream()).toList();
    if (curves.isEmpty()) {
      return new double[0];
    }
    double low = curves.stream().mapToDouble(NewestCurve::lowC).min().getAsDouble();
    double high = curves.stream().mapToDouble(NewestCurve::highC).max().getAsDouble();
    return DoubleStream.iterate(0, i -> i + 1)
        .limit(points)
        .map(i -> low + (high - low) * i / (points - 1))
        .toArray();
  }

  private OfLot lot(String name, List<TrackerCurves> units, Grid grid) {
    List<TrackerCurves> listed = units.subList(0, Math.min(MOST_UNITS, units.size()));
    List<String> ids = listed.stream().map(u -> u.figures().tracker()).toList();
    Map<String, WarmUpTrace> traces = database.warmUpTraces().of(ids, grid.stepS, grid.count);
    List<OfUnit> answered = listed.stream().map(u -> unit(u, traces, grid)).toList();
    return new OfLot(name, bands(units, grid), answered, units.size() - listed.size());
  }

  private static List<Band> bands(List<TrackerCurves> units, Grid grid) {
    List<Band> bands = new ArrayList<>();
    for (int axis = 0; axis < Axes.NAMES.size(); axis++) {
      List<List<Double>> curves = new ArrayList<>();
      for (TrackerCurves unit : units) {
        int i = axis;
        NewestCurve.of(unit)
            .ifPresent(c -> curves.add(c.differencesDps(i, grid.atC, grid.temperaturesC)));
      }
      CurveBand band = CurveBand.of(curves, grid.temperaturesC.length);
      bands.add(
          new Band(
              Axes.NAMES.get(axis),
              rounded(band.lowDps(), BIAS_STEP_DPS),
              rounded(band.highDps(), BIAS_STEP_DPS),
              band.reason()));
    }
    return bands;
  }

  private OfUnit unit(TrackerCurves unit, Map<String, WarmUpTrace> traces, Grid grid) {
    String id = unit.figures().tracker();
    Bias bias =
        NewestCurve.of(unit)
            .map(c -> bias(c, grid))
            .orElseGet(() -> new Bias(null, List.of(), noCurve(unit)));
    return new OfUnit(id, names.entry(id).name(), bias, warmUp(unit, traces.get(id)));
  }

  private static Bias bias(NewestCurve curve, Grid grid) {
    String reason = curve.reason(grid.atC);
    List<OfAxis> axes = new ArrayList<>();
    for (int i = 0; reason == null && i < Axes.NAMES.size(); i++) {
      axes.add(
          new OfAxis(
              Axes.NAMES.get(i),
              rounded(curve.differencesDps(i, grid.atC, grid.temperaturesC), BIAS_STEP_DPS)));
    }
    return new Bias(curve.soak(), axes, reason);
  }

  private static String noCurve(TrackerCurves unit) {
    return unit.figures().axes().get(0).bias().tempcoDpsPerC().reason();
  }

  private static WarmUp warmUp(TrackerCurves unit, WarmUpTrace trace) {
    if (trace == null) {
      return new WarmUp(null, null, List.of(), unit.figures().warmUp().plateauC().reason());
    }
    boolean told = trace.reason() == null;
    return new WarmUp(
        trace.soak(),
        trace.plateauC(),
        told ? rounded(trace.shares(), SHARE_STEP) : List.of(),
        trace.reason());
  }

  private static List<Double> rounded(List<Double> values, double step) {
    List<Double> rounded = new ArrayList<>();
    for (Double v : values) {
      rounded.add(v == null ? null : Math.round(v / step) / Math.rint(1 / step));
    }
    return rounded;
  }
}
