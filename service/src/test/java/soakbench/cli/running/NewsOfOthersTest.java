package soakbench.cli.running;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.concurrent.TimeUnit;
import org.junit.jupiter.api.Test;
import soakbench.store.connection.Announcements.News;

class NewsOfOthersTest {
  private static final News TOLD = new News(true, List.of());
  private static final News JUDGED = new News(false, List.of("A-1"));

  private final NewsOfOthers news = new NewsOfOthers();
  private long nowNs = System.nanoTime();

  private long after(long ms) {
    nowNs += TimeUnit.MILLISECONDS.toNanos(ms);
    return nowNs;
  }

  @Test
  void whatIsToldIsReadAtOnceAndThenNotBeforeThreeTimesAsLongAsThatTook() {
    assertThat(news.takeTold(after(1))).isFalse();
    news.heard(TOLD);
    assertThat(news.takeTold(after(1))).isTrue();
    news.toldIsRead(after(200));
    news.heard(TOLD);
    assertThat(news.takeTold(after(599))).isFalse();
    assertThat(news.takeTold(after(1))).isTrue();
    assertThat(news.takeTold(after(10_000))).isFalse();
  }

  @Test
  void whatIsJudgedIsLookedAtAtOnceElseOnceASecondAndAgainWhereThatFailed() {
    news.begin(after(2_000));
    news.ended(after(100));
    assertThat(news.isDue(after(299))).isFalse();
    news.heard(JUDGED);
    assertThat(news.isDue(after(1))).isTrue();
    assertThat(news.begin(after(0)).test("A-1")).isTrue();
    news.failed();
    assertThat(news.isDue(after(999))).isFalse();
    assertThat(news.isDue(after(1))).isTrue();
    assertThat(news.begin(after(0)).test("A-2")).isTrue();
  }

  @Test
  void whatStillHasToWaitSaysForHowLongAndNothingElseDoes() {
    news.begin(after(2_000));
    news.ended(after(100));
    assertThat(news.waitNs(after(0))).isEmpty();
    news.heard(JUDGED);
    assertThat(news.waitNs(after(50))).hasValue(TimeUnit.MILLISECONDS.toNanos(250));
    news.heard(TOLD);
    assertThat(news.waitNs(after(0))).hasValue(0);
    assertThat(news.takeTold(after(0))).isTrue();
    assertThat(news.waitNs(after(300))).hasValue(0);
    news.begin(after(0));
    news.ended(after(5_000));
    news.heard(JUDGED);
    assertThat(news.waitNs(after(100))).hasValue(TimeUnit.MILLISECONDS.toNanos(900));
  }
}
