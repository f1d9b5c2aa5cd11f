package soakbench.live;

import java.util.List;
import java.util.Objects;
import java.util.Optional;
import soakbench.model.Estimate;
import soakbench.model.Soak;
import soakbench.readiness.RecordedCooling;
import soakbench.thermal.EarlierTaus;

/**
 * The summary of a soak that the soaks after it use.
 *
 * @param soak its id
 * @param tracker the tracker's id
 * @param endUs its newest sample, microseconds since 1970
 * @param ended whether it has ended
 * @param thermal its thermal figures
 */
public record SoakSummary(String soak, String tracker, long endUs, boolean ended, Thermal thermal) {

  /**
   * The thermal figures of a soak.
   *
   * @param plateauC where its temperature levels, degC
   * @param timeConstantsS of its warm-up, fastest first, s; none while it goes on
   * @param coolings recorded in it, by time
   */
  public record Thermal(
      Estimate plateauC, List<Estimate> timeConstantsS, List<RecordedCooling> coolings) {
    public Thermal {
      Objects.requireNonNull(plateauC, "plateauC");
      timeConstantsS = List.copyOf(timeConstantsS);
      coolings = List.copyOf(coolings);
    }
  }

  /** The summary of a stored soak. */
  public static SoakSummary of(Soak stored, Thermal thermal) {
    return new SoakSummary(stored.id(), stored.tracker(), stored.endUs(), !stored.open(), thermal);
  }

  /** The body's time constant, s, where this soak's own data determine it. */
  public Optional<Estimate> ownTauS() {
    List<Estimate> all = thermal.timeConstantsS();
    return all.isEmpty()
        ? Optional.empty()
        : Optional.of(all.get(all.size() - 1)).filter(EarlierTaus::own);
  }

  /** The same, ended. */
  public SoakSummary asEnded() {
    return new SoakSummary(soak, tracker, endUs, true, thermal);
  }
}
