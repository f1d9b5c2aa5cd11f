package soakbench.model;

import static org.assertj.core.api.Assertions.assertThat;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.EnumSource;

class SoakTest {
  private final Soak soak = new Soak("T@1", "T", 1_500_000, 9_999_999, 42, null);

  @Test
  void oneThatGoesOnIsOpenAndHasItsSamples() {
    assertThat(soak.open()).isTrue();
    assertThat(soak.samplesKept()).isTrue();
    assertThat(soak.startSecond()).isEqualTo(1);
    assertThat(soak.endSecond()).isEqualTo(9);
  }

  @Test
  void aSecondBefore1970IsRoundedDownToo() {
    assertThat(new Soak("T@0", "T", -1, -1, 1, null).startSecond()).isEqualTo(-1);
  }

  @ParameterizedTest
  @EnumSource(Soak.End.class)
  void anEndIsKeptAndSomeAreGivenAndNotSeen(Soak.End why) {
    Soak ended = soak.endedBy(why);
    assertThat(ended.open()).isFalse();
    assertThat(ended.ended()).isEqualTo(why);
    boolean given = why == Soak.End.TAKEN_OFF || why == Soak.End.CLOCK_SET;
    assertThat(ended.givenEnd()).isEqualTo(given);
    assertThat(ended.withSamples(7)).isEqualTo(new Soak("T@1", "T", 1_500_000, 9_999_999, 7, why));
  }

  @Test
  void whatLostItsSamplesKeepsTheirCount() {
    Soak lost = soak.withoutSamples();
    assertThat(lost.samplesKept()).isFalse();
    assertThat(lost.samples()).isEqualTo(42);
    assertThat(lost.endedBy(Soak.End.SILENCE).withSamples(43).samplesKept()).isFalse();
  }
}
