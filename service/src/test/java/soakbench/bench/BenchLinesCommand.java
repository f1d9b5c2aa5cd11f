package soakbench.bench;

import com.fasterxml.jackson.core.JsonFactory;
import com.fasterxml.jackson.core.JsonParser;
import java.io.IOException;
import java.io.PrintWriter;
import java.lang.management.ManagementFactory;
import java.lang.management.ThreadMXBean;
import java.nio.charset.StandardCharsets;
import java.util.Arrays;
import java.util.Locale;
import java.util.Map;
import java.util.Random;
import java.util.concurrent.Callable;
import picocli.CommandLine.Command;
import picocli.CommandLine.Model.CommandSpec;
import picocli.CommandLine.Option;
import picocli.CommandLine.Spec;
import soakbench.cli.options.CommandException;
import soakbench.lines.LineCounters;
import soakbench.lines.LineReader;
import soakbench.lines.PatternSpec;

/** How fast lines are read, beside a JSON library that only walks over the same bytes. */
@Command(
    name = "lines",
    description =
        "Reads the same lines in each form, and beside it lets a JSON library walk over the JSON"
            + " ones without using anything; prints lines a second of processor time.",
    mixinStandardHelpOptions = true,
    footer = {"", "Example: soakbench bench lines --lines 200000 --rounds 15"})
final class BenchLinesCommand implements Callable<Integer> {
  private static final String HEADER = "id,seq,t_ms,temp_c,gx_dps,gy_dps,gz_dps,ax_g,ay_g,az_g\n";
  private static final int PORTION = 8192;
  private static final ThreadMXBean PROCESSOR = ManagementFactory.getThreadMXBean();

  private static final PatternSpec PATTERN =
      new PatternSpec(
          "^#(?<seq>[0-9]+) @(?<t_ms>[0-9]+) T=(?<temp_c>[-0-9.]+)"
              + " G=(?<gx_dps>[-0-9.]+)/(?<gy_dps>[-0-9.]+)/(?<gz_dps>[-0-9.]+)"
              + " A=(?<ax_g>[-0-9.]+)/(?<ay_g>[-0-9.]+)/(?<az_g>[-0-9.]+)$",
          Map.of(),
          Map.of());

  @Option(
      names = "--lines",
      defaultValue = "100000",
      description = "lines a round (default ${DEFAULT-VALUE})")
  private int lines;

  @Option(
      names = "--rounds",
      defaultValue = "21",
      description = "rounds; the middle one of each kind counts (default ${DEFAULT-VALUE})")
  private int rounds;

  @Spec private CommandSpec spec;

  /** Goes over the bytes once and says how many lines it found. */
  @FunctionalInterface
  private interface Walk {
    long over(byte[] bytes) throws IOException;
  }

  @Override
  public Integer call() throws IOException {
    if (lines < 1 || rounds < 1) {
      throw new CommandException("--lines and --rounds must be 1 or more");
    }
    byte[] json = text(Form.JSON);
    byte[] csv = text(Form.CSV);
    byte[] own = text(Form.OWN);
    double[][] rates = new double[4][rounds];
    for (int round = -2; round < rounds; round++) {
      // One after another, so that whatever else the machine does hits all alike.
      double[] now = {
        rate(BenchLinesCommand::tokens, json),
        rate(bytes -> read(bytes, null), json),
        rate(bytes -> read(bytes, null), csv),
        rate(bytes -> read(bytes, PATTERN), own)
      };
      for (int kind = 0; kind < now.length && round >= 0; kind++) {
        rates[kind][round] = now[kind];
      }
    }
    print(rates);
    return 0;
  }

  private void print(double[][] rates) {
    double tokens = middle(rates[0]);
    PrintWriter out = spec.commandLine().getOut();
    String[] names = {
      "JSON, tokens only, by the library", "JSON, bytes to readings", "CSV", "a pattern"
    };
    for (int kind = 0; kind < names.length; kind++) {
      double rate = middle(rates[kind]);
      out.printf(
          Locale.ROOT,
          "%-34s %9.0f lines/s   %.2f of the first%n",
          names[kind],
          rate,
          rate / tokens);
    }
    out.flush();
  }

  private static double middle(double[] values) {
    double[] sorted = values.clone();
    Arrays.sort(sorted);
    return sorted[sorted.length / 2];
  }

  /** Lines a second of processor time: what else the machine does then counts for nothing. */
  private double rate(Walk walk, byte[] bytes) throws IOException {
    long before = PROCESSOR.getCurrentThreadCpuTime();
    long found = walk.over(bytes);
    double seconds = (PROCESSOR.getCurrentThreadCpuTime() - before) / 1e9;
    if (found != lines) {
      throw new IllegalStateException(found + " lines found, there are " + lines);
    }
    return lines / seconds;
  }

  private static long read(byte[] bytes, PatternSpec pattern) {
    LineCounters counters = new LineCounters();
    LineReader reader = new LineReader(counters, reading -> null, pattern);
    for (int at = 0; at < bytes.length; at += PORTION) {
      reader.feed(bytes, at, Math.min(PORTION, bytes.length - at));
    }
    return counters.snapshot().readings();
  }

  private static long tokens(byte[] bytes) throws IOException {
    long objects = 0;
    int depth = 0;
    try (JsonParser parser = new JsonFactory().createParser(bytes)) {
      for (var token = parser.nextToken(); token != null; token = parser.nextToken()) {
        depth += token.isStructStart() ? 1 : token.isStructEnd() ? -1 : 0;
        objects += depth == 0 ? 1 : 0;
      }
    }
    return objects;
  }

  private enum Form {
    JSON(
        "{\"id\":\"KITE-1\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":%.2f,\"gyro_dps\":[%.4f,%.4f,%.4f],"
            + "\"accel_g\":[%.3f,%.3f,%.3f]}%n"),
    CSV("KITE-1,%d,%d,%.2f,%.4f,%.4f,%.4f,%.3f,%.3f,%.3f%n"),
    OWN("#%d @%d T=%.2f G=%.4f/%.4f/%.4f A=%.3f/%.3f/%.3f%n");

    final String line;

    Form(String line) {
      this.line = line;
    }
  }

  private byte[] text(Form form) {
    Random noise = new Random(7);
    StringBuilder text = new StringBuilder(form == Form.CSV ? HEADER : "");
    for (int i = 0; i < lines; i++) {
      text.append(
          String.format(
              Locale.ROOT,
              form.line,
              i,
              i * 20L,
              24 + 0.02 * noise.nextGaussian(),
              0.3 + 0.05 * noise.nextGaussian(),
              -0.1 + 0.05 * noise.nextGaussian(),
              0.05 * noise.nextGaussian(),
              0.01 * noise.nextGaussian(),
              0.01 * noise.nextGaussian(),
              1 + 0.01 * noise.nextGaussian()));
    }
    return text.toString().getBytes(StandardCharsets.UTF_8);
  }
}
