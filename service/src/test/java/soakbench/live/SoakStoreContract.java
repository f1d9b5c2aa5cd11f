package soakbench.live;

/** What every store must do. Each test uses trackers of its own, so stores may be shared. */
public abstract class SoakStoreContract
    implements SamplesContract,
        UnitsContract,
        AsideContract,
        BinsContract,
        SoaksContract,
        TermsContract,
        KeptJudgesContract,
        SummariesContract,
        LimitsContract,
        ImportsContract {
  private static int trackers;

  private final String tracker = "contract-" + trackers++;

  @Override
  public String tracker() {
    return tracker;
  }
}
