package soakbench.lines;

import static java.nio.charset.StandardCharsets.US_ASCII;
import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.EnumSource;
import org.junit.jupiter.params.provider.ValueSource;

class ColumnTest {
  private static Column named(String name) {
    byte[] bytes = ("##" + name + "##").getBytes(US_ASCII);
    return Column.named(bytes, 2, bytes.length - 2);
  }

  @ParameterizedTest
  @EnumSource(Column.class)
  void eachIsFoundByItsOwnName(Column column) {
    assertThat(named(column.label())).isSameAs(column);
  }

  @ParameterizedTest
  @ValueSource(strings = {"", "TEMP_C", "temp", "temp_cc", "gx", "gx_dp", "a", "t_m", "tms", "i"})
  void whatOnlyResemblesANameIsNone(String name) {
    assertThat(named(name)).isNull();
  }

  /**
   * Factors to the units that the channels are kept in. The radian is 180/pi degrees (SI Brochure,
   * 9th edition, table 8: 1 deg = pi/180 rad), standard gravity 9.80665 m/s^2 (CGPM 1901,
   * resolution 2).
   */
  @ParameterizedTest
  @CsvSource({
    "GX_RADS, 0.017453292519943295, 1",
    "GY_RADS, 3.141592653589793, 180",
    "GZ_RADS, -1.5707963267948966, -90",
    "AX_MS2, 9.80665, 1",
    "AY_MS2, -19.6133, -2",
    "AZ_MS2, 4.903325, 0.5",
    "TEMP_C, 24.31, 24.31",
    "GX_DPS, -0.12, -0.12",
    "AZ_G, 0.98, 0.98"
  })
  void aUnitOfTheTradeBecomesTheChannels(Column column, double said, double expected) {
    assertThat(said * column.factor()).isCloseTo(expected, within(1e-12));
  }

  @Test
  void columnsOfOneQuantityFillTheSameChannel() {
    assertThat(Column.GX_RADS.channel()).isSameAs(Column.GX_DPS.channel()).isSameAs(Channel.GX);
    assertThat(Column.AZ_MS2.channel()).isSameAs(Column.AZ_G.channel()).isSameAs(Channel.AZ);
    assertThat(Column.TEMP_C.channel()).isSameAs(Channel.TEMPERATURE);
  }

  @ParameterizedTest
  @EnumSource(Column.class)
  void whatIsNotMeasuredIsTextOrACounter(Column column) {
    boolean counter = column == Column.SEQ || column == Column.T_MS;
    assertThat(column.channel() == null).isEqualTo(column.isText() || counter);
    assertThat(column.isText() && counter).isFalse();
  }
}
