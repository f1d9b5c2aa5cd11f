package soakbench.serial;

import static java.nio.charset.StandardCharsets.ISO_8859_1;
import static java.nio.charset.StandardCharsets.UTF_8;
import static org.assertj.core.api.Assertions.assertThat;

import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Against bytes as a receiver at a wrong rate gets them; see {@link UartLine}. */
class BaudSearchTest {
  private static final long SECOND_NS = 1_000_000_000L;

  private final BaudSearch search = new BaudSearch(BaudSearch.PATIENCE_NS);

  private static byte[] lines() {
    StringBuilder lines = new StringBuilder();
    for (int i = 0; i < 25; i++) {
      lines.append(
          "{\"id\":\"T-0412\",\"seq\":%d,\"t_ms\":%d,\"temp_c\":%.2f,\"gyro_dps\":[0.31,-0.%d,0.05]}\n"
              .formatted(i, 60_000 + 20 * i, 24 + i * 0.01, 10 + i));
    }
    return lines.toString().getBytes(UTF_8);
  }

  private static byte[] csv() {
    StringBuilder lines = new StringBuilder("t_ms,temp_c,gx_dps,gy_dps,gz_dps\n");
    for (int i = 0; i < 60; i++) {
      lines.append("%d,%.2f,0.31,-0.%d,0.05\r\n".formatted(60_000 + 20 * i, 24 + i * 0.01, 10 + i));
    }
    return lines.toString().getBytes(UTF_8);
  }

  /**
   * Half a second's bytes at a time; as at the right rate they are lines, they are readings then.
   */
  private List<Integer> ratesUntilRead(byte[] sent, int senderBaud) {
    List<Integer> tried = new ArrayList<>(List.of(search.baud()));
    long readings = 0;
    for (long halfSeconds = 0; halfSeconds < 200 && readings == 0; halfSeconds++) {
      byte[] heard = UartLine.received(sent, senderBaud, search.baud());
      readings += Arrays.equals(heard, sent) ? 25 : 0;
      if (search.heard(heard, heard.length, readings, halfSeconds * SECOND_NS / 2)) {
        tried.add(search.baud());
      }
    }
    assertThat(readings).as("read at %d, tried %s", senderBaud, tried).isPositive();
    return tried;
  }

  @ParameterizedTest
  @ValueSource(
      ints = {115200, 921600, 460800, 230400, 57600, 38400, 19200, 9600, 1000000, 500000, 4800})
  void eachCommonRateIsFoundAndNoneIsPassedOver(int senderBaud) {
    List<Integer> upTo = BaudSearch.RATES.subList(0, BaudSearch.RATES.indexOf(senderBaud) + 1);
    assertThat(ratesUntilRead(lines(), senderBaud)).isEqualTo(upTo);
    assertThat(search.isGarbled()).isFalse();
  }

  @ParameterizedTest
  @ValueSource(ints = {921600, 57600, 9600, 4800})
  void rowsOfNumbersAreFoundToo(int senderBaud) {
    assertThat(ratesUntilRead(csv(), senderBaud)).endsWith(senderBaud);
  }

  @Test
  void aReceiverAtTheSendersRateGetsWhatWasSentAndAtAnyOtherHardlyText() {
    for (int sender : BaudSearch.RATES) {
      for (int receiver : BaudSearch.RATES) {
        byte[] heard = UartLine.received(lines(), sender, receiver);
        if (sender == receiver) {
          assertThat(heard).isEqualTo(lines());
          continue;
        }
        long text =
            new String(heard, ISO_8859_1)
                .chars()
                .filter(c -> c >= 32 && c < 127 || c == '\n' || c == '\r')
                .count();
        assertThat((double) text / heard.length).as("%d at %d", sender, receiver).isLessThan(0.7);
      }
    }
  }

  @Test
  void theRateIsNeverChangedWhileLinesAreReadHoweverMuchGarbageComesBetween() {
    byte[] garbage = UartLine.received(lines(), 57_600, 115_200);
    for (int i = 0; i < 100; i++) {
      assertThat(search.heard(garbage, garbage.length, i + 1, i * SECOND_NS)).isFalse();
    }
  }

  @Test
  void textThatIsNoDataIsLeftAtItsRate() {
    byte[] chatter = "starting up, waiting for a command\r\n".getBytes(UTF_8);
    for (int i = 0; i < 100; i++) {
      assertThat(search.heard(chatter, chatter.length, 0, i * SECOND_NS)).isFalse();
    }
    assertThat(search.isGarbled()).isFalse();
  }

  @Test
  void aMomentOfGarbageChangesNothing() {
    byte[] garbage = UartLine.received(lines(), 57_600, 115_200);
    assertThat(search.heard(garbage, garbage.length, 0, 0)).isFalse();
    assertThat(search.heard(garbage, garbage.length, 0, SECOND_NS * 19 / 10)).isFalse();
    assertThat(search.heard(lines(), 100, 1, SECOND_NS * 2)).isFalse();
    assertThat(search.heard(garbage, garbage.length, 1, SECOND_NS * 3)).isFalse();
    assertThat(search.heard(garbage, garbage.length, 1, SECOND_NS * 49 / 10)).isFalse();
    assertThat(search.heard(garbage, garbage.length, 1, SECOND_NS * 51 / 10)).isTrue();
    assertThat(search.baud()).isEqualTo(921_600);
  }

  @Test
  void aFewOddBytesAreNoReasonForAnotherRate() {
    byte[] blip = {0, (byte) 0xff, (byte) 0x80};
    for (int i = 0; i < 7; i++) {
      assertThat(search.heard(blip, blip.length, 0, i * 10 * SECOND_NS)).isFalse();
    }
  }
}
