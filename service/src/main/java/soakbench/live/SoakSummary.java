package soakbench.live;

import java.util.List;
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
 * @param plateauC where its temperature levels, degC
 * @param timeConstantsS of its warm-up, fastest first, s; none while it goes on
 * @param coolings recorded in it, by time
 */
public record SoakSummary(
    String soak,
    String tracker,
    long endUs,
    boolean ended,
    Estimate plateauC,
    List<Estimate> timeConstantsS,
    List<RecordedCooling> coolings) {

  /** The body's time constant, s, where the soak showed it itself. */
  public Optional<Estimate> ownTauS() {
    return timeConstantsS.isEmpty()
        ? Optional.empty()
        : Optional.of(timeConstantsS.get(timeConstantsS.size() - 1)).filter(EarlierTaus::own);
  }

  /** The same with what is stored of its soak. */
  public SoakSummary of(Soak stored) {
    return new SoakSummary(
        stored.id(),
        stored.tracker(),
        stored.endUs(),
        !stored.open(),
        plateauC,
        timeConstantsS,
        coolings);
  }

  /** The same, said to have ended. */
  public SoakSummary asEnded() {
    return new SoakSummary(soak, tracker, endUs, true, plateauC, timeConstantsS, coolings);
  }
}
