package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;

class NearestNameTest {
  private static final List<String> KNOWN =
      List.of("port", "baud", "tracker", "band_low_c", "band_high_c", "shift_limit_dps");

  @ParameterizedTest
  @CsvSource({
    "prot, port",
    "Port, port",
    "baudrate, baud",
    "traker, tracker",
    "band-low-c, band_low_c",
    "band_hihg_c, band_high_c",
    "shift_limit, shift_limit_dps",
  })
  void aSlipFindsTheNameThatWasMeant(String slip, String meant) {
    assertThat(NearestName.to(slip, KNOWN)).contains(meant);
  }

  @Test
  void somethingElseFindsNothing() {
    assertThat(NearestName.to("colour", KNOWN)).isEmpty();
    assertThat(NearestName.hint("colour", KNOWN)).isEmpty();
    assertThat(NearestName.hint("bad", KNOWN)).isEqualTo("; did you mean \"baud\"?");
  }
}
