package soakbench.live;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.model.Soak;
import soakbench.readiness.RecordedCooling;
import soakbench.thermal.EarlierTaus;

/**
 * What is kept of a soak for those after it.
 *
 * @param soak its id
 * @param tracker the tracker's id
 * @param endUs its newest sample, microseconds since 1970
 * @param ended whether it has ended
 * @param shown what it showed
 */
public record SoakSummary(String soak, String tracker, long endUs, boolean ended, Shown shown) {

  /**
   * What a soak showed of its tracker's heat.
   *
   * @param plateauC where its temperature levels, degC
   * @param timeConstantsS of its warm-up, fastest first, s; none while it goes on
   * @param coolings recorded in it, by time
   */
  public record Shown(
      Estimate plateauC, List<Estimate> timeConstantsS, List<RecordedCooling> coolings) {
    public Shown {
      Objects.requireNonNull(plateauC, "plateauC");
      timeConstantsS = List.copyOf(timeConstantsS);
      coolings = List.copyOf(coolings);
    }
  }

  /** With what is stored of its soak. */
  public static SoakSummary of(Soak stored, Shown shown) {
    return new SoakSummary(stored.id(), stored.tracker(), stored.endUs(), !stored.open(), shown);
  }

  /** The body's time constant, s, where the soak showed it itself. */
  public Optional<Estimate> ownTauS() {
    List<Estimate> all = shown.timeConstantsS();
    return all.isEmpty()
        ? Optional.empty()
        : Optional.of(all.get(all.size() - 1)).filter(EarlierTaus::own);
  }

  /** The same, said to have ended. */
  public SoakSummary asEnded() {
    return new SoakSummary(soak, tracker, endUs, true, shown);
  }
}
