package soakbench.lines;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.lines.Rejection.Kind;

class ReadingDraftTest {
  private final ReadingDraft draft = new ReadingDraft().clear();

  private Reading reading() {
    LineResult answer = draft.finish();
    assertThat(answer).isInstanceOf(Reading.class);
    return (Reading) answer;
  }

  private Rejection rejection() {
    LineResult answer = draft.finish();
    assertThat(answer).isInstanceOf(Rejection.class);
    return (Rejection) answer;
  }

  private ReadingDraft warm() {
    draft.clear().number(Column.TEMP_C, 24.5);
    return draft;
  }

  @Test
  void whatALineLacksIsToldAsLacking() {
    warm();
    Reading reading = reading();
    assertThat(reading.id()).isNull();
    assertThat(reading.boot()).isNull();
    assertThat(reading.timeUs()).isEqualTo(Reading.NO_TIME);
    assertThat(reading.arrivalUs()).isEqualTo(Reading.NO_TIME);
    assertThat(reading.seq()).isEqualTo(-1);
    assertThat(reading.tMs()).isEqualTo(-1);
    assertThat(reading.hasRates()).isFalse();
    assertThat(reading.isWhole()).isFalse();
  }

  @Test
  void nothingOfTheLineBeforeIsLeft() {
    draft.text(Column.ID, "T-1");
    draft.text(Column.TIME, "2026-01-31T12:00:00Z");
    draft.number(Column.SEQ, 12);
    draft.number(Column.T_MS, 60_000);
    draft.number(Column.TEMP_C, 999);
    draft.temperatureHeld(true);
    draft.rejectTime(Column.TIME, "wrong");
    draft.clear();
    draft.number(Column.TEMP_C, 20);
    LineResult fresh = new ReadingDraft().clear().finish();
    assertThat(fresh).isInstanceOf(Rejection.class);
    assertThat(reading().stamps())
        .isEqualTo(new Reading.Stamps(Reading.NO_TIME, Reading.NO_TIME, -1, -1, null));
    assertThat(reading().id()).isNull();
    assertThat(reading().temperatureHeld()).isNull();
  }

  @Test
  void theFirstThingWrongIsTheOneThatIsTold() {
    draft.number(Column.TEMP_C, 126);
    draft.text(Column.ID, "T 1");
    assertThat(rejection())
        .isEqualTo(
            new Rejection(Kind.ABSURD_VALUE, "temp_c is 126.0 degC, outside -40 to 125 degC"));
  }

  /** 2^32 - 1 is a 32-bit counter's last value; 2^53 is where IEEE 754 doubles stop counting. */
  @ParameterizedTest
  @CsvSource({
    "T_MS, 4294967295, true",
    "T_MS, 4294967296, false",
    "T_MS, -1, false",
    "SEQ, 9007199254740992, true",
    "SEQ, 9007199254740994, false",
    "SEQ, NaN, false",
    "SEQ, 0, true"
  })
  void aCounterEndsWhereItsNumbersDo(Column column, double value, boolean taken) {
    warm().number(column, value);
    LineResult answer = draft.finish();
    if (taken) {
      Reading reading = (Reading) answer;
      assertThat(column == Column.SEQ ? reading.seq() : reading.tMs()).isEqualTo((long) value);
    } else {
      assertThat(((Rejection) answer).reason()).contains(column.label() + " is " + value);
      assertThat(((Rejection) answer).kind()).isEqualTo(Kind.ABSURD_VALUE);
    }
  }

  @Test
  void allThreeAxesOrNone() {
    draft.number(Column.GX_DPS, 1);
    draft.number(Column.GZ_DPS, 1);
    assertThat(rejection().reason()).isEqualTo("2 of 3 axes of rates; send all three or none");
    warm().number(Column.AY_MS2, 9.80665);
    assertThat(rejection().reason())
        .isEqualTo("1 of 3 axes of acceleration; send all three or none");
  }

  @Test
  void accelerationAloneIsNoReading() {
    draft.number(Column.AX_G, 0);
    draft.number(Column.AY_G, 0);
    draft.number(Column.AZ_G, 1);
    assertThat(rejection().kind()).isEqualTo(Kind.NO_CHANNELS);
  }

  @Test
  void aTimeThatCannotBeLeavesTheRestOfTheLineKnown() {
    warm().text(Column.TIME, "noon\u0007");
    Rejection rejection = rejection();
    assertThat(rejection.kind()).isEqualTo(Kind.BAD_TIME);
    assertThat(rejection.reason())
        .isEqualTo("time \"noon.\" is no time like 2026-01-31T12:00:00.000Z between 2000 and 2100");
    assertThat(rejection.untimed().temperatureC()).isEqualTo(24.5f);
  }

  @Test
  void anArrivalThatCannotBeLeavesNothing() {
    warm().text(Column.ARRIVAL, "noon");
    assertThat(rejection().untimed()).isNull();
  }

  @Test
  void anEmptyTextIsLackingAndANumberIsNoText() {
    warm().text(Column.ID, "");
    assertThat(reading().id()).isNull();
    assertThatThrownBy(() -> draft.text(Column.SEQ, "5"))
        .isInstanceOf(IllegalArgumentException.class);
  }

  @Test
  void aBadIdIsRefusedEachTimeItComes() {
    for (int i = 0; i < 3; i++) {
      warm().text(Column.ID, "T 1");
      assertThat(rejection().kind()).isEqualTo(Kind.BAD_ID);
    }
    warm().text(Column.BOOT, "b/1");
    assertThat(rejection().reason()).startsWith("boot \"b/1\" is no id: an id is ");
  }
}
