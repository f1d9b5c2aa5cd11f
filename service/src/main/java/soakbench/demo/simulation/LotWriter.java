package soakbench.demo.simulation;

import java.io.IOException;
import java.io.OutputStream;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.util.ArrayList;
import java.util.LinkedHashMap;
import java.util.List;
import java.util.Locale;
import java.util.Map;
import java.util.SplittableRandom;
import java.util.function.Consumer;
import java.util.zip.GZIPOutputStream;
import soakbench.demo.lines.LineStream;
import soakbench.demo.unit.Axis;
import soakbench.demo.unit.Draw;
import soakbench.demo.unit.Events;
import soakbench.demo.unit.Heating;
import soakbench.demo.unit.SimulatedUnit;
import soakbench.demo.unit.UnitGenerator;

/**
 * Writes whole lots: a recording and its truth for each soak of each unit, a roster, and what is
 * true of the lots. The same options write the same bytes.
 */
public final class LotWriter {
  /** Usual scatter of a lot's units about the common law, standard deviation, deg/s per degC. */
  public static final double SPREAD_DPS_PER_C = 0.006;

  private static final long US_PER_S = 1_000_000L;
  private static final long DAY_S = 86_400;
  private static final long APART_S = 3 * 3600;
  private static final String NAME = "lots";

  private final LotOptions options;
  private final Path folder;
  private final Consumer<Path> written;

  /** What all lots have in common: slopes of x, y, z, deg/s per degC. */
  private final double[] lawDpsPerC;

  private LotWriter(LotOptions options, Path folder, Consumer<Path> written) {
    this.options = options;
    this.folder = folder;
    this.written = written;
    Draw draw = new Draw(new SplittableRandom(options.seed()));
    this.lawDpsPerC =
        new double[] {
          draw.uniform(-0.02, 0.02), draw.uniform(-0.02, 0.02), draw.uniform(-0.02, 0.02)
        };
  }

  /**
   * Writes them.
   *
   * @param folder is made where it is not there
   * @param written receives each recording when it is
   * @return how many recordings there are
   * @throws IOException if something can't be written, or the folder holds something already
   */
  public static int write(LotOptions options, Path folder, Consumer<Path> written)
      throws IOException {
    Files.createDirectories(folder);
    try (var there = Files.list(folder)) {
      if (there.findAny().isPresent()) {
        throw new IOException(folder + " is not empty; name a new folder");
      }
    }
    return new LotWriter(options, folder, written).write();
  }

  private int write() throws IOException {
    StringBuilder roster = new StringBuilder("id,lot,rack,slot\n");
    List<Object> lots = new ArrayList<>();
    int recordings = 0;
    for (Map.Entry<String, Double> lot : options.spreads().entrySet()) {
      List<Object> units = new ArrayList<>();
      for (int u = 0; u < options.size().units(); u++) {
        SimulatedUnit unit = unit(lot.getKey(), lot.getValue(), u);
        String bench = "bench-" + (1 + u % options.size().benches());
        roster.append("%s,%s,%s,%d%n".formatted(unit.id(), unit.lot(), bench, 1 + u));
        units.add(truth(unit, bench));
        for (int soak = 0; soak < options.size().soaks(); soak++) {
          write(recipe(unit, u, soak), soak);
          recordings++;
        }
      }
      lots.add(truth(lot.getKey(), lot.getValue(), units));
    }
    Files.writeString(folder.resolve("roster.csv"), roster.toString().replace("\r", ""));
    TruthFile.write(document(lots), folder.resolve(NAME + ".truth.json"));
    return recordings;
  }

  /** Drawn by its name and the seed alone: the same unit, whatever else is written. */
  private Draw draw(String what) {
    long seed = options.seed() * 0x9E3779B97F4A7C15L;
    return new Draw(new SplittableRandom(seed ^ what.hashCode() * 0xBF58476D1CE4E5B9L));
  }

  private SimulatedUnit unit(String lot, double spread, int number) {
    String id = String.format(Locale.ROOT, "%s-%03d", lot, number + 1);
    return UnitGenerator.aboutLaw(
        UnitGenerator.unit(id, lot, 1, true, draw(id)),
        lawDpsPerC,
        spread * SPREAD_DPS_PER_C,
        draw("law of " + id));
  }

  /** A bench has a cover of its own, a day a room of its own. */
  private Recipe recipe(SimulatedUnit unit, int number, int soak) {
    int day = soak % options.size().days();
    Draw bench = draw("bench " + number % options.size().benches());
    Draw ofDay = draw("day " + day);
    Draw its = draw(unit.id() + " soak " + soak);
    Heating heating =
        Heating.steady(
            ofDay.uniform(19, 23) + its.uniform(-0.2, 0.2),
            bench.uniform(30.2, 32.2) + its.uniform(-0.3, 0.3),
            its.uniform(1, 2),
            its.uniform(20, 40),
            bench.uniform(500, 800) * its.uniform(0.95, 1.05));
    long startUs =
        options.size().start().getEpochSecond() * US_PER_S
            + (day * DAY_S + soak / options.size().days() * APART_S) * US_PER_S;
    LineStream stream =
        new LineStream(
            options.lines().form(),
            options.lines().stamp(),
            options.lines().rateHz(),
            its.uniform(0.002, 0.02),
            its.uniform(0, 40),
            3000,
            LineStream.Faults.NONE);
    return new Recipe(
        unit,
        heating,
        Events.NONE,
        stream,
        new Recipe.Run(startUs, options.size().durationS(), its.random().nextLong()),
        new Recipe.Origin(NAME, List.of()));
  }

  private void write(Recipe recipe, int soak) throws IOException {
    Path its = Files.createDirectories(folder.resolve(recipe.unit().lot()));
    String name = recipe.unit().id() + "-soak" + (soak + 1);
    boolean csv = options.lines().form() == LineStream.Form.CSV;
    Path file = its.resolve(name + (csv ? ".csv.gz" : ".jsonl.gz"));
    try (OutputStream out = new GZIPOutputStream(Files.newOutputStream(file), 1 << 16)) {
      SimulateRun.write(new SimulatedTracker(recipe), out);
    }
    TruthFile.write(List.of(Truth.of(recipe)), its.resolve(name + ".truth.json"));
    written.accept(file);
  }

  private static Map<String, Object> truth(SimulatedUnit unit, String bench) {
    Map<String, Object> out = new LinkedHashMap<>();
    out.put("tracker", unit.id());
    out.put("rack", bench);
    out.put("tempco_31c_dps_per_c", unit.axes().stream().map(a -> a.coefficients()[1]).toList());
    out.put("N_dps_per_sqrt_hz", unit.axes().stream().map(a -> a.noise().whiteDps()).toList());
    return out;
  }

  private static Map<String, Object> truth(String lot, double spread, List<Object> units) {
    Map<String, Object> out = new LinkedHashMap<>();
    out.put("lot", lot);
    out.put("spread_factor", spread);
    out.put("spread_dps_per_c", spread * SPREAD_DPS_PER_C);
    out.put("units", units);
    return out;
  }

  private Map<String, Object> document(List<Object> lots) {
    Instant start = options.size().start();
    Map<String, Object> out = new LinkedHashMap<>();
    out.put("start", start.toString());
    out.put("seed", options.seed());
    out.put("law_" + Math.round(Axis.REFERENCE_C) + "c_dps_per_c", lawDpsPerC);
    out.put("lots", lots);
    return out;
  }
}
