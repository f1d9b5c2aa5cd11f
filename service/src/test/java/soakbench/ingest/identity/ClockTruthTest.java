package soakbench.ingest.identity;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.nio.file.Files;
import java.nio.file.Path;
import java.time.Instant;
import java.time.temporal.ChronoUnit;
import java.util.ArrayList;
import java.util.List;
import java.util.SplittableRandom;
import java.util.stream.IntStream;
import java.util.stream.Stream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.io.TempDir;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.MethodSource;
import soakbench.ingest.rackfile.LineSettings;
import soakbench.ingest.source.Recording;
import soakbench.ingest.source.SourceReader;
import soakbench.model.Sample;

/**
 * Times of samples against the simulated truth, from the bytes of lines: a clock wrong by up to 500
 * ppm, lines that come late, a counter that wraps, a tracker that boots again; read from a port as
 * they come, and from a recording by what {@code arrival} says. The whole second (bin) of a sample
 * is right where its time is.
 */
class ClockTruthTest {
  private static final long START_US = 1_770_000_000_000_000L;
  private static final double SETTLED_S = 60;
  private static final double LENGTH_S = 600;
  private static final double EVENT_S = 300.25;
  private static final double PAUSE_S = 2.5;
  private static final double ALLOWED_MS = 5;

  @TempDir private Path folder;

  /** How late lines come; never early, and often enough hardly late at all. */
  private enum Delay {
    UNIFORM_TO_50_MS,
    EXPONENTIAL_12_MS,
    /** Pareto with exponent 1.5 from 2 ms: a mean of 6 ms, now and then a second. */
    HEAVY_TAILED;

    double drawnS(SplittableRandom random) {
      return switch (this) {
        case UNIFORM_TO_50_MS -> 0.05 * random.nextDouble();
        case EXPONENTIAL_12_MS -> 0.012 * random.nextExponential();
        case HEAVY_TAILED -> Math.min(2, 0.002 * (Math.pow(1 - random.nextDouble(), -1 / 1.5) - 1));
      };
    }
  }

  private enum Event {
    NOTHING,
    WRAP,
    REBOOT
  }

  private record Run(double skewPpm, double rateHz, Delay delay, Event event) {}

  /** A line, when it arrived, and when it was truly taken. */
  private record Line(String text, long arrivalUs, double takenUs) {}

  static Stream<Run> runs() {
    List<Run> runs = new ArrayList<>();
    for (double skew : new double[] {-500, 500, 120}) {
      for (double rate : new double[] {10, 50}) {
        for (Delay delay : Delay.values()) {
          for (Event event : Event.values()) {
            runs.add(new Run(skew, rate, delay, event));
          }
        }
      }
    }
    return runs.stream();
  }

  /** One in five of them: every skew, rate, delay and event, not each with each. */
  static Stream<Run> some() {
    List<Run> all = runs().toList();
    return IntStream.range(0, all.size()).filter(i -> i % 5 == 0).mapToObj(all::get);
  }

  /** Lines of one link arrive in the order in which they were sent. */
  private static List<Line> lines(Run run, long seed) {
    SplittableRandom random = new SplittableRandom(seed);
    List<Line> lines = new ArrayList<>();
    double bootS = 0;
    double bootMs = run.event == Event.WRAP ? 0x1p32 - EVENT_S * 1000 : 3000;
    long arrivalUs = 0;
    int seq = 0;
    for (double s = 0; s < LENGTH_S; s += 1 / run.rateHz) {
      if (run.event == Event.REBOOT && bootS == 0 && s >= EVENT_S) {
        s += PAUSE_S;
        bootS = s;
        bootMs = 300;
        seq = 0;
      }
      double deviceMs = bootMs + (s - bootS) * 1000 * (1 + run.skewPpm * 1e-6);
      long tMs = Math.floorMod((long) Math.floor(deviceMs), 1L << 32);
      arrivalUs = Math.max(arrivalUs, Math.round((s + run.delay.drawnS(random)) * 1e6));
      String text =
          "{\"id\":\"T-1\",\"seq\":%d,\"t_ms\":%d,\"arrival\":\"%s\",\"gyro_dps\":[1,2,3]}\n"
              .formatted(seq++, tMs, Instant.EPOCH.plus(START_US + arrivalUs, ChronoUnit.MICROS));
      // The counter's own millisecond is no error of the mapping.
      double takenUs = s * 1e6 - (deviceMs - Math.floor(deviceMs)) * 1000;
      lines.add(new Line(text, START_US + arrivalUs, START_US + takenUs));
    }
    return lines;
  }

  /** Worst error in the minutes after settling, ms; each sample must be there. */
  private static double worstMs(Run run, List<Line> lines, List<Sample> samples) {
    assertThat(samples).hasSameSizeAs(lines);
    double worst = 0;
    for (int i = 0; i < lines.size(); i++) {
      double s = (lines.get(i).takenUs - START_US) / 1e6;
      boolean settling =
          s < SETTLED_S
              || run.event == Event.REBOOT && s >= EVENT_S && s < EVENT_S + PAUSE_S + SETTLED_S;
      double errorMs = (samples.get(i).timeUs() - lines.get(i).takenUs) / 1000;
      worst = settling ? worst : Math.max(worst, Math.abs(errorMs));
    }
    return worst;
  }

  @ParameterizedTest
  @MethodSource("some")
  void aMinuteAfterItWasFirstHeardLiveTimesAreRightToFiveMilliseconds(Run run) {
    isRightLive(run, 1);
  }

  @ParameterizedTest
  @MethodSource("runs")
  @Tag("bench")
  void eachWithEachIsRightLive(Run run) {
    isRightLive(run, 1);
    isRightLive(run, 2);
  }

  private static void isRightLive(Run run, long seed) {
    List<Line> lines = lines(run, seed);
    List<Sample> samples = new ArrayList<>();
    SourceReader reader = new SourceReader(LineSettings.NONE, samples::add);
    for (Line line : lines) {
      byte[] bytes = line.text.replaceFirst("\"arrival\":\"[^\"]*\",", "").getBytes(UTF_8);
      reader.feed(bytes, bytes.length, line.arrivalUs);
    }
    assertThat(worstMs(run, lines, samples)).as("seed %s", seed).isLessThan(ALLOWED_MS);
  }

  @ParameterizedTest
  @MethodSource("some")
  void aRecordingsArrivalsGiveTheSameTimes(Run run) throws IOException {
    isRightRecorded(run);
  }

  @ParameterizedTest
  @MethodSource("runs")
  @Tag("bench")
  void eachWithEachIsRightRecorded(Run run) throws IOException {
    isRightRecorded(run);
  }

  private void isRightRecorded(Run run) throws IOException {
    List<Line> lines = lines(run, 4);
    Path file = folder.resolve("recording.jsonl");
    Files.write(file, lines.stream().map(l -> l.text.strip()).toList());
    List<Sample> samples = new ArrayList<>();
    Recording.read(file, samples::addAll);
    assertThat(worstMs(run, lines, samples)).isLessThan(ALLOWED_MS);
  }
}
