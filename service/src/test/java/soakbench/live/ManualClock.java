package soakbench.live;

/** A live clock that a test turns by hand. */
public final class ManualClock implements EventClock {
  private long nowUs;

  public ManualClock(long startUs) {
    nowUs = startUs;
  }

  @Override
  public long nowUs() {
    return nowUs;
  }

  void setUs(long us) {
    nowUs = Math.max(nowUs, us);
  }

  public void pass(double seconds) {
    nowUs += Math.round(seconds * 1e6);
  }
}
