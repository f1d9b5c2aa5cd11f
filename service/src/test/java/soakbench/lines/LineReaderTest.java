package soakbench.lines;

import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.lines.Rejection.Kind;

class LineReaderTest {
  private static final String JSON =
      "boot v3\r\n{\"id\":\"T-1\",\"t_ms\":5,\"temp_c\":20.5,\"gyro_dps\":[1,2,3]}\r\n"
          + "{\"id\":\"T-1\",\"t_ms\":6,\"temp\n{\"id\":\"T-1\",\"t_ms\":7,\"temp_c\":20.6}\n";
  private static final String CSV =
      "boot\nid,t_ms,temp_c,gx_dps,gy_dps,gz_dps\nT-1,5,20.5,1,2,3\r\n\nT-1,6,2\n"
          + "T-1,7,20.6,,,\n";

  private final LineCounters counters = new LineCounters();
  private final List<Reading> heard = new ArrayList<>();
  private final LineReader reader = reader(counters, heard);

  private static LineReader reader(LineCounters counters, List<Reading> heard) {
    return new LineReader(
        counters,
        reading -> {
          heard.add(reading);
          return null;
        });
  }

  private void feed(String text) {
    byte[] bytes = text.getBytes(UTF_8);
    reader.feed(bytes, 0, bytes.length);
  }

  @Test
  void anyTwoCutsGiveTheSameReadingsAndCounts() {
    for (String text : List.of(JSON, CSV)) {
      byte[] bytes = text.getBytes(UTF_8);
      for (int first = 0; first <= bytes.length; first++) {
        for (int second = first; second <= bytes.length; second++) {
          LineCounters counts = new LineCounters();
          List<Reading> readings = new ArrayList<>();
          LineReader cut = reader(counts, readings);
          cut.feed(bytes, 0, first);
          cut.feed(bytes, first, second - first);
          cut.feed(bytes, second, bytes.length - second);
          assertThat(readings).extracting(Reading::tMs).containsExactly(5L, 7L);
          assertThat(readings).extracting(Reading::temperatureC).containsExactly(20.5f, 20.6f);
          assertThat(counts.snapshot().of(Kind.CHATTER)).isEqualTo(1);
          assertThat(counts.snapshot().of(Kind.HALF_LINE)).isEqualTo(1);
        }
      }
    }
  }

  @Test
  void everyLineIsCountedOnceWithAnExampleOfEachKind() {
    feed(CSV);
    feed("\u0007wrong\u00ff" + "w".repeat(300) + "\n" + "y".repeat(5000) + "\nT-1,8,150,,,\n");
    LineCounts counts = counters.snapshot();
    assertThat(counts.lines()).isEqualTo(8);
    assertThat(counts.readings()).isEqualTo(2);
    assertThat(counts.headers()).isEqualTo(1);
    assertThat(counts.rejectedTotal()).isEqualTo(5);
    assertThat(counts.rejected().get(Kind.CHATTER).example()).hasSize(120).startsWith(".wrong..w");
    assertThat(counts.rejected().get(Kind.OVER_LONG).example()).isEqualTo("y".repeat(120));
    assertThat(counts.rejected().get(Kind.ABSURD_VALUE))
        .isEqualTo(
            new LineCounts.Rejected(
                1, "temp_c is 150.0 degC, outside -40 to 125 degC", "T-1,8,150,,,"));
    assertThat(counts.of(Kind.BAD_ID)).isZero();
  }

  @Test
  void aReadingThatIsRefusedLaterCountsAsRejected() {
    LineReader strict = new LineReader(counters, r -> new Rejection(Kind.NO_ID, "no id"));
    strict.feed("{\"temp_c\":1}\n".getBytes(UTF_8), 0, 13);
    assertThat(counters.snapshot().of(Kind.NO_ID)).isEqualTo(1);
    assertThat(counters.snapshot().readings()).isZero();
  }

  @Test
  void afterAnInterruptionACutRowIsNotBelieved() {
    feed("t_ms,temp_c\n5,20.5\n6,2");
    reader.interrupted();
    feed("0.5,7\n8,20.75\n");
    assertThat(heard).extracting(Reading::tMs).containsExactly(5L, 8L);
    assertThat(counters.snapshot().of(Kind.HALF_LINE)).isEqualTo(2);
  }

  @Test
  void afterAnInterruptionAWholeJsonLineOrHeaderCounts() {
    reader.interrupted();
    feed("{\"temp_c\":20.5}\n");
    reader.interrupted();
    feed("t_ms,temp_c\n5,21.5\n");
    reader.interrupted();
    feed("emp_c,t_ms,seq\n6,22.5\n");
    assertThat(heard).extracting(Reading::temperatureC).containsExactly(20.5f, 21.5f, 22.5f);
  }
}
