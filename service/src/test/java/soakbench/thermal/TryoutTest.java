package soakbench.thermal;

import java.util.*;
import org.junit.jupiter.api.Test;
import soakbench.demo.*;
import soakbench.model.*;

class TryoutTest {
  @Test
  void run() {
    int n = Integer.getInteger("n", 100);
    long seed0 = Long.getLong("seed", 100);
    for (String m : System.getProperty("mixes", "clean,usual,nasty").split(","))
      for (double from : new double[] {0, 600}) {
        Mix mix = Mix.valueOf(m.toUpperCase());
        int[] two = {0, 0};
        int known = 0, cover = 0, tcov = 0, t = 0, c1 = 0, c1n = 0, brk = 0, settled = 0, un1 = 0;
        List<Double> err = new ArrayList<>(), width = new ArrayList<>();
        long ns = 0;
        Map<String, Integer> reasons = new TreeMap<>();
        StringBuilder miss = new StringBuilder();
        for (long seed = seed0; seed < seed0 + n; seed++) {
          Recipe r = SimulatedThermometer.recipe(mix, seed);
          List<Bin> bins = SimulatedThermometer.bins(r, from);
          long a = System.nanoTime();
          WarmUpCurve c = WarmUpAnalysis.of(bins);
          ns += System.nanoTime() - a;
          if (c.reason() != null) {
            reasons.merge(c.reason(), 1, Integer::sum);
            continue;
          }
          boolean late =
              r.events().lids().stream().anyMatch(l -> l.toS() >= 2400)
                  || r.events().offs().stream().anyMatch(l -> l.toS() >= 2400);
          if (!c.breaksUs().isEmpty()) brk++;
          two[c.timeConstantsS().size() - 1]++;
          if (late) continue;
          settled++;
          double p = r.heating().plateauC();
          known++;
          boolean in = c.plateauC().low() <= p && p <= c.plateauC().high();
          if (in) cover++;
          else
            miss.append(
                String.format(
                    "   seed %d P %.3f err %.4f [%.4f %.4f] n=%d breaks=%d from=%.0f to=%.0f step=%.4f noise=%.3f taus %.0f %.0f %s sd %.4f got %s%n",
                    seed,
                    p,
                    c.plateauC().value() - p,
                    c.plateauC().low() - p,
                    c.plateauC().high() - p,
                    c.timeConstantsS().size(),
                    c.breaksUs().size(),
                    (c.fromUs() - r.startUs()) / 1e6,
                    (c.toUs() - r.startUs()) / 1e6,
                    r.unit().thermometerStepC(),
                    r.unit().thermometerNoiseC(),
                    r.heating().chipS(),
                    r.heating().bodyS(),
                    r.scenarios(),
                    c.residualSdC(),
                    c.timeConstantsS().stream()
                        .map(
                            x ->
                                x.known()
                                    ? Math.round(x.value() * 10) / 10.
                                        + "["
                                        + Math.round(x.low())
                                        + ","
                                        + Math.round(x.high())
                                        + "]"
                                    : "?")
                        .toList()));
          err.add(Math.abs(c.plateauC().value() - p));
          width.add(c.plateauC().high() - c.plateauC().low());
          Estimate body = c.timeConstantsS().get(c.timeConstantsS().size() - 1);
          if (body.known()) {
            t++;
            if (body.low() <= r.heating().bodyS() && r.heating().bodyS() <= body.high()) tcov++;
          }
          if (c.timeConstantsS().size() == 2) {
            Estimate chip = c.timeConstantsS().get(0);
            if (!chip.known()) un1++;
            else {
              c1n++;
              if (chip.low() <= r.heating().chipS() && r.heating().chipS() <= chip.high()) c1++;
            }
          }
        }
        Collections.sort(err);
        Collections.sort(width);
        System.out.printf(
            "%s from %.0f: one %d two %d broken %d; plateau %d of %d, err med %.4f p90 %.4f width med %.4f p90 %.4f; body %d of %d; chip %d of %d (unknown %d); %.0f ms each %s%n%s",
            mix,
            from,
            two[0],
            two[1],
            brk,
            cover,
            known,
            err.get(err.size() / 2),
            err.get(err.size() * 9 / 10),
            width.get(width.size() / 2),
            width.get(width.size() * 9 / 10),
            tcov,
            t,
            c1,
            c1n,
            un1,
            ns / 1e6 / n,
            reasons,
            miss);
      }
  }
}
