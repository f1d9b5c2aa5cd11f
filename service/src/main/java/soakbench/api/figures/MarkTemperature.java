package soakbench.api.figures;

import io.javalin.http.Context;
import java.util.List;
import soakbench.api.http.ProblemException;
import soakbench.api.http.QueryParameters;
import soakbench.api.http.Times;
import soakbench.readiness.Calibration;
import soakbench.readiness.Calibration.Status;
import soakbench.store.derived.DerivedCalibrations;

/** The temperature at which a tracker was calibrated, by the mark that a request names. */
public final class MarkTemperature {
  private static final String NAME = "mark";

  private final DerivedCalibrations calibrations;

  public MarkTemperature(DerivedCalibrations calibrations) {
    this.calibrations = calibrations;
  }

  /**
   * The temperature before lifting, degC; null where no mark is named.
   *
   * @throws ProblemException 400 if there is no such mark, it does not count, or it has none
   */
  Double ofRequest(Context ctx, String tracker) {
    String named = QueryParameters.text(ctx, NAME);
    if (named == null) {
      return null;
    }
    if (QueryParameters.text(ctx, "from_c") != null) {
      throw QueryParameters.invalid(NAME, "mark and from_c exclude each other; leave one out.");
    }
    Calibration mark = mark(ctx, named, tracker);
    double temperatureC = mark.handling() == null ? Double.NaN : mark.handling().temperatureC();
    if (Double.isNaN(temperatureC)) {
      throw QueryParameters.invalid(
          NAME, "The mark " + Times.text(mark.atUs()) + " has no temperature; give from_c.");
    }
    return temperatureC;
  }

  private Calibration mark(Context ctx, String named, String tracker) {
    List<Calibration> all = calibrations.of(tracker);
    if (named.equals("newest")) {
      return all.stream()
          .filter(c -> c.status() == Status.MARK)
          .findFirst()
          .orElseThrow(
              () ->
                  QueryParameters.invalid(
                      NAME, "Tracker " + tracker + " has no calibration mark yet."));
    }
    long atUs = QueryParameters.timeUs(ctx, NAME);
    Calibration found =
        all.stream()
            .filter(c -> c.atUs() == atUs)
            .findFirst()
            .orElseThrow(
                () ->
                    QueryParameters.invalid(
                        NAME,
                        "Tracker %s has no mark of %s. GET /api/trackers/%s/calibrations lists them."
                            .formatted(tracker, named, tracker)));
    if (found.status() != Status.MARK) {
      throw QueryParameters.invalid(
          NAME, "%s is %s, no mark that counts.".formatted(named, found.status().word()));
    }
    return found;
  }
}
