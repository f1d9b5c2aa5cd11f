package soakbench.cli.commands;


import java.util.List;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.HandlingRuns;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.unit.Correction;
import soakbench.drift.curve.BiasCurve;
import soakbench.live.StoreContents;
import soakbench.live.figures.SoakFigures;
import soakbench.model.Estimate;
import soakbench.model.Limits;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.Calibration;

class StoredOffsetTest {
  @Test
  void look() {
    for (long seed = 1; seed <= 8; seed++) {
      for (var c : List.of(Correction.NONE, Correction.of(Correction.Kind.STORED))) {
        Recipe recipe = HandlingRuns.calibratedInTheMiddle(seed, c);
        for (Rates told : List.of(Rates.RAW, Rates.CONSTANT, Rates.UNKNOWN)) {
          HandledRun run = HandledRun.of(recipe, told);
          StoreContents kept = StoreContents.of(run.store(), run.tracker());
          System.out.println(
              seed + " " + c.kind() + " told " + told + " soaks " + kept.soaks().size());
          for (int i = 0; i < kept.soaks().size(); i++) {
            System.out.println(
                "   "
                    + kept.timeline(i).stream()
                        .map(x -> x.state() + "@" + (x.timeUs() - recipe.startUs()) / 1000000)
                        .toList());
          }
          BiasCurve curve = SoakFigures.of(run.bins(), Limits.DEFAULT, told).biasCurve();
          System.out.println(
              "   curve "
                  + (curve.reason() != null
                      ? curve.reason()
                      : curve.axes().stream()
                          .map(a -> a.figures().tempcoDpsPerC())
                          .map(e -> String.format("%.5f(%.5f)", e.value(), e.se()))
                          .toList()));
          for (Calibration m : run.calibrations(told)) {
            System.out.println(
                "   "
                    + m.status()
                    + " "
                    + (m.check() == null
                        ? m.checkReason()
                        : m.check().result().verdict()
                            + " | "
                            + m.check().result().reason()
                            + " | now "
                            + v(m.check().result().degPerMin())
                            + " use "
                            + v(m.check().result().degPerMinInUse())));
          }
        }
      }
    }
  }

  static String v(Estimate e) {
    return e.known() ? String.format("%.2f+-%.2f", e.value(), e.se()) : e.reason();
  }
}
