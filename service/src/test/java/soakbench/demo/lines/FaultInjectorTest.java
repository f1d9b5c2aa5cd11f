package soakbench.demo.lines;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.nio.charset.StandardCharsets;
import java.util.SplittableRandom;
import org.junit.jupiter.api.Test;
import soakbench.demo.lines.LineStream.Faults;

class FaultInjectorTest {
  private static final double RATE_HZ = 10;
  private static final double EVERY_LINE = RATE_HZ * 3600;
  private static final String LINE = "{\"temp_c\":24.3100}\n";

  private final LineBuffer out = new LineBuffer();

  private static FaultInjector injector(Faults faults) {
    LineStream clean = LineStream.clean(RATE_HZ);
    LineStream stream = new LineStream(clean.form(), clean.stamp(), RATE_HZ, 0, 0, 3000, faults);
    return new FaultInjector(stream, new SplittableRandom(3));
  }

  private String text() {
    return new String(out.bytes(), 0, out.length(), StandardCharsets.ISO_8859_1);
  }

  @Test
  void aCleanTrackerPrintsNothingBesideItsLines() {
    FaultInjector clean = injector(Faults.NONE);
    LineValues values = new LineValues();
    for (int i = 0; i < 1_000; i++) {
      clean.boot(out);
      clean.before(out);
      clean.corrupt(values);
      clean.truncate(out, 0);
    }
    assertThat(out.length()).isZero();
    assertThat(values.temperatureC).isZero();
    assertThat(values.gyroDps).containsOnly(0);
  }

  @Test
  void atPowerOnItPrintsFiveLinesOfChatter() {
    FaultInjector chatty = injector(new Faults(true, 0, 0, 0));
    for (int boot = 1; boot <= 50; boot++) {
      chatty.boot(out);
      assertThat(text().chars().filter(c -> c == '\n')).hasSize(5 * boot);
    }
    assertThat(text()).doesNotContain("temp_c");
  }

  /** Of 100,000 lines a tenth: by chance 10,000, give or take 95. */
  @Test
  void chatterComesAsOftenAnHourAsItShould() {
    FaultInjector chatty = injector(new Faults(false, EVERY_LINE / 10, 0, 0));
    int lines = 0;
    for (int i = 0; i < 100_000; i++) {
      out.clear();
      chatty.before(out);
      lines += out.length() > 0 ? 1 : 0;
    }
    assertThat(lines).isCloseTo(10_000, within(400));
  }

  @Test
  void impossibleFiguresAreEachOutsideWhatAnyPartMeasures() {
    FaultInjector absurd = injector(new Faults(false, 0, 0, EVERY_LINE));
    int hot = 0;
    for (int i = 0; i < 1_000; i++) {
      LineValues values = new LineValues();
      absurd.corrupt(values);
      int fast = 0;
      for (double dps : values.gyroDps) {
        fast += dps > 4000 ? 1 : 0;
      }
      hot += values.temperatureC > 125 ? 1 : 0;
      assertThat(fast + (values.temperatureC > 125 ? 1 : 0)).isEqualTo(1);
    }
    assertThat(hot).isBetween(400, 600);
  }

  @Test
  void aHalfLineIsABeginningOfTheLineWithOrWithoutAnEnd() {
    FaultInjector cutter = injector(new Faults(false, 0, EVERY_LINE, 0));
    int ended = 0;
    for (int i = 0; i < 1_000; i++) {
      out.clear();
      out.add("before\n").add(LINE);
      cutter.truncate(out, 7);
      boolean end = text().endsWith("\n");
      String half = text().substring(7, text().length() - (end ? 1 : 0));
      assertThat(text()).startsWith("before\n");
      assertThat(LINE).startsWith(half);
      assertThat(half).isNotEmpty().hasSizeLessThan(LINE.length() - 1);
      ended += end ? 1 : 0;
    }
    assertThat(ended).isBetween(400, 600);
  }
}
