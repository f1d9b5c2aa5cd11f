package soakbench.drift.correction;

import java.io.Serializable;
import java.util.ArrayList;
import java.util.Arrays;
import java.util.List;
import java.util.stream.IntStream;
import soakbench.drift.still.BiasBlock;
import soakbench.drift.still.BiasBlocks;
import soakbench.drift.still.Stillness;
import soakbench.model.Bin;
import soakbench.model.Tracker.Rates;

/**
 * Detects whether a tracker's firmware corrects the rates that it prints, so that their drift can't
 * be judged. Two signs: a low-pass of the rates is taken off while it lies still, seen because no
 * offset lasts and because the deviation falls faster than white noise's; or the still rates return
 * to zero after each motion. A constant correction is none: the rates then drift like any others.
 *
 * <p>The first is a likelihood ratio of whole runs of half-minute blocks, for several time
 * constants of the low-pass, summed over axes and runs. Fed one soak's seconds in order; not
 * thread-safe.
 */
public final class InsideCorrection implements Serializable {
  /** No powers of two; the ends stand for all that is faster or slower. */
  private static final double[] LOW_PASS_S = {15, 30, 60, 120, 240};

  private static final HighPassHypothesis MEASURED =
      HighPassHypothesis.of(Double.POSITIVE_INFINITY);
  private static final List<HighPassHypothesis> HIGH_PASSED_BY =
      Arrays.stream(LOW_PASS_S).mapToObj(HighPassHypothesis::of).toList();

  /** Natural logarithms of the likelihood ratios that decide. */
  private static final double SHOWN = 12;

  private static final double EXCLUDED = -20;

  private static final int LOOK_EVERY_BLOCKS = 2;

  private final AutoZero returns = new AutoZero();
  private final Resolution resolution = new Resolution();
  private final double[] past = new double[LOW_PASS_S.length];
  private final double[] gain = new double[LOW_PASS_S.length];
  private final List<BiasBlock> run = new ArrayList<>();
  private final HighPassHypothesis.Run measured = MEASURED.run();
  private final List<HighPassHypothesis.Run> followed =
      HIGH_PASSED_BY.stream().map(HighPassHypothesis::run).toList();
  private double greatest;
  private int taken;
  private boolean corrected;

  /** What is known. */
  public enum Finding {
    /** Too little to decide. */
    UNKNOWN,
    /** Rates as measured, less a constant at most. */
    AS_MEASURED,
    /** They are drawn back to zero while it lies still. */
    HIGH_PASSED,
    /** They are set back to zero after each motion. */
    AUTO_ZEROED;

    /** What the firmware takes off, by what is seen and, where nothing is, by what is declared. */
    public Rates rates(Rates declared) {
      return this == HIGH_PASSED || this == AUTO_ZEROED ? Rates.FOLLOWS : declared;
    }

    /**
     * Why the drift of these rates can't be judged; null where it can.
     *
     * @param declared what the roster declares; taken as true where it says that they follow
     */
    public String reason(Rates declared) {
      return switch (this) {
        case HIGH_PASSED -> seen(declared, "its rates are drawn back to zero while it lies still");
        case AUTO_ZEROED -> seen(declared, "its rates return to zero after each motion");
        case AS_MEASURED -> told(declared, " (though its rates don't show it)");
        case UNKNOWN -> told(declared, "");
      };
    }

    private static String seen(Rates declared, String how) {
      boolean contrary = declared == Rates.RAW || declared == Rates.CONSTANT;
      String though = contrary ? " (though the roster says " + declared.word() + ")" : "";
      return "corrected inside" + though + ": " + how + ", so drift can't be judged";
    }

    private static String told(Rates declared, String though) {
      return declared == Rates.FOLLOWS
          ? "corrected inside, as the roster says" + though + ": drift can't be judged"
          : null;
    }
  }

  /**
   * Takes the next second.
   *
   * @param tS middle of the second, s since the soak began
   * @param blocks that have taken it already
   */
  public void accept(Bin bin, double tS, Stillness.Answer answer, BiasBlocks blocks) {
    if (answer == Stillness.Answer.STILL) {
      resolution.accept(bin);
    }
    returns.second(bin.boot(), tS);
    List<BiasBlock> all = blocks.blocks();
    while (taken < all.size()) {
      take(all.get(taken++), blocks.whiteNoiseDps());
    }
  }

  private void take(BiasBlock block, double[] whiteDps) {
    returns.accept(block, whiteDps);
    BiasBlock last = run.isEmpty() ? null : run.get(run.size() - 1);
    boolean follows =
        last != null
            && last.segment() == block.segment()
            && Math.abs(block.midS() - last.midS() - BiasBlocks.BLOCK_S) < 6;
    if (!follows || run.size() == HighPassHypothesis.MOST) {
      if (run.size() % LOOK_EVERY_BLOCKS != 0) {
        look();
      }
      System.arraycopy(gain, 0, past, 0, past.length);
      run.clear();
      measured.clear();
      followed.forEach(HighPassHypothesis.Run::clear);
    }
    run.add(block);
    measured.add(block.biasDps());
    followed.forEach(f -> f.add(block.biasDps()));
    if (run.size() % LOOK_EVERY_BLOCKS == 0) {
      look();
    }
  }

  private void look() {
    List<Integer> axes = IntStream.range(0, 3).filter(resolution::enough).boxed().toList();
    if (run.size() < HighPassHypothesis.LEAST || axes.isEmpty()) {
      return;
    }
    double[] c = run.stream().mapToDouble(BiasBlock::temperatureC).toArray();
    double asMeasured = measured.logLikelihood(c, axes);
    for (int k = 0; k < gain.length; k++) {
      gain[k] = past[k] + followed.get(k).logLikelihood(c, axes) - asMeasured;
    }
    greatest = Arrays.stream(gain).max().orElseThrow();
    // Kept while the evidence only weakens, given up when it turns.
    corrected = greatest > (corrected ? 0 : SHOWN);
  }

  /** The likelihood ratio's natural logarithm for the likeliest time constant; for tests. */
  double greatestGain() {
    return greatest;
  }

  /** What the soak has shown so far. */
  public Finding finding() {
    if (corrected) {
      return Finding.HIGH_PASSED;
    }
    if (returns.shown()) {
      return Finding.AUTO_ZEROED;
    }
    return greatest < EXCLUDED ? Finding.AS_MEASURED : Finding.UNKNOWN;
  }
}
