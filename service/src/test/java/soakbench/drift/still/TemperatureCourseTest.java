package soakbench.drift.still;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import java.util.ArrayList;
import java.util.List;
import java.util.function.DoubleUnaryOperator;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import soakbench.drift.Bins;
import soakbench.model.Bin;

/** Temperature and rate at any time, of courses whose truth is a formula. */
class TemperatureCourseTest {

  private static TemperatureCourse course(int seconds, DoubleUnaryOperator celsius) {
    Bins bins = new Bins(1);
    List<Bin> all = new ArrayList<>();
    for (int s = 0; s < seconds; s++) {
      all.add(bins.at(celsius.applyAsDouble(s + 0.5)).second(s, 1, 0));
    }
    return TemperatureCourse.of(all, all.get(0).second());
  }

  @Test
  void aStraightWarmingIsReadExactly() {
    TemperatureCourse course = course(300, t -> 25 + 0.004 * t);
    assertThat(course.coarse()).isFalse();
    TemperatureCourse.Reading at = course.over(150, 30);
    assertThat(at.temperatureC()).isCloseTo(25.6, within(1e-9));
    assertThat(at.rateCPerS()).isCloseTo(0.004, within(1e-12));
  }

  /** Over seconds -h .. h about the middle the mean of t^2 is h (h + 1) / 3, for whole h. */
  @Test
  void aBendRaisesTheMeanByItsCurvature() {
    TemperatureCourse course = course(301, t -> 20 + 0.001 * (t - 150.5) * (t - 150.5));
    TemperatureCourse.Reading at = course.over(150.5, 60);
    assertThat(at.temperatureC()).isCloseTo(20 + 0.001 * 30 * 31 / 3, within(1e-9));
    assertThat(at.rateCPerS()).isCloseTo(0, within(1e-12));
  }

  @Test
  void aShortStretchIsStillReadOverHalfAMinute() {
    TemperatureCourse course = course(100, t -> t < 50 ? 20 : 20 + 0.01 * (t - 50));
    double whole = course.over(50, 30).rateCPerS();
    assertThat(course.over(50, 2).rateCPerS()).isEqualTo(whole);
    assertThat(whole).isBetween(0.003, 0.007);
  }

  @Test
  void whereNothingWasReadNothingIsKnown() {
    TemperatureCourse course = course(40, t -> 25);
    assertThat(course.over(500, 30).known()).isFalse();
    assertThat(course.over(500, 30).rateCPerS()).isNaN();
    assertThat(course.over(20, 30).known()).isTrue();
  }

  /** A thermometer of half-degree steps that warms by 0.01 degC/s steps every 50 s. */
  private static TemperatureCourse steps() {
    return course(200, t -> 25 + 0.5 * Math.rint(0.01 * t / 0.5));
  }

  @Test
  void aCoarseThermometerIsKnownBetweenItsCrossings() {
    TemperatureCourse course = steps();
    assertThat(course.coarse()).isTrue();
    for (double t : new double[] {30, 60, 75, 100, 120}) {
      TemperatureCourse.Reading at = course.over(t, 30);
      assertThat(at.temperatureC()).as("at %s s", t).isCloseTo(25 + 0.01 * t, within(0.006));
      assertThat(at.rateCPerS()).isCloseTo(0.01, within(1e-12));
    }
  }

  @Test
  void beforeItsFirstCrossingAndAfterItsLastItIsNotKnown() {
    TemperatureCourse course = steps();
    assertThat(course.over(20, 30).known()).as("first crossing at 25 s").isFalse();
    assertThat(course.over(190, 30).known()).as("last crossing at 175 s").isFalse();
  }

  @Test
  void twoCrossingsOfOneLevelHideAPeak() {
    TemperatureCourse course = course(90, t -> t > 30 && t < 60 ? 25.5 : 25);
    assertThat(course.coarse()).isTrue();
    assertThat(course.over(45, 30).known()).isFalse();
  }

  /** A second in so many measures the temperature; the others hold it. */
  private static TemperatureCourse seldom(int seconds, int everyS, DoubleUnaryOperator celsius) {
    Bins bins = new Bins(1);
    List<Bin> all = new ArrayList<>();
    for (int s = 0; s < seconds; s++) {
      Bin bin = bins.at(celsius.applyAsDouble(s + 0.5)).second(s, 1, 0);
      all.add(s % everyS == 0 ? bin : without(bin));
    }
    return TemperatureCourse.of(all, all.get(0).second());
  }

  private static Bin without(Bin b) {
    return new Bin(
        b.tracker(),
        b.second(),
        b.firstUs(),
        b.lastUs(),
        b.boot(),
        Bin.Channel.EMPTY,
        b.gyroDps(),
        b.accelG(),
        b.temperatureStepC(),
        b.gyroStepDps());
  }

  @ParameterizedTest
  @CsvSource({"10, true", "15, true", "30, true", "31, true", "32, false", "60, false"})
  void aTemperatureIsKnownWhereItComesAsOftenAsItIsHeld(int everyS, boolean known) {
    TemperatureCourse course = seldom(900, everyS, t -> 25 + 0.004 * t);
    assertThat(course.seldom()).isTrue();
    assertThat(course.spacingS()).isEqualTo(everyS);
    TemperatureCourse.Reading at = course.over(450, 30);
    assertThat(at.known()).isEqualTo(known);
    if (known) {
      assertThat(at.temperatureC()).isCloseTo(26.8, within(1e-9));
      assertThat(at.rateCPerS()).isCloseTo(0.004, within(1e-12));
    }
  }

  @Test
  void betweenTwoReadingsItGoesStraightAndBeyondThemItStays() {
    TemperatureCourse course = seldom(91, 30, t -> 25 + 0.004 * t);
    long start = new Bins(1).second(0, 1, 0).second();
    assertThat(course.atC(start + 45)).isCloseTo(25 + 0.004 * 45.5, within(1e-9));
    assertThat(course.atC(start - 20)).isCloseTo(25.002, within(1e-9));
    assertThat(course.atC(start + 200)).isCloseTo(25.362, within(1e-9));
  }
}
