package soakbench.live.watch;

import static org.assertj.core.api.Assertions.assertThat;

import java.io.IOException;
import java.io.Serializable;
import java.lang.reflect.Field;
import java.lang.reflect.GenericArrayType;
import java.lang.reflect.Modifier;
import java.lang.reflect.ParameterizedType;
import java.lang.reflect.Type;
import java.util.ArrayList;
import java.util.HashSet;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.stream.IntStream;
import org.junit.jupiter.api.Tag;
import org.junit.jupiter.api.Test;
import soakbench.Drawn;
import soakbench.demo.simulation.Mix;
import soakbench.demo.simulation.SimulateOptions;
import soakbench.live.RatesHistory;
import soakbench.live.Samples;
import soakbench.live.SomeLimits;
import soakbench.live.StoreContents;
import soakbench.live.kept.ObjectForm;
import soakbench.live.memory.FaultyStore;
import soakbench.model.Bin;
import soakbench.model.LimitKey;
import soakbench.model.Limits;
import soakbench.model.Sample;
import soakbench.model.SoakTerms;
import soakbench.model.TauPrior;
import soakbench.model.Tracker.Rates;
import soakbench.readiness.CoolingSource;
import soakbench.readiness.Readiness;

/** A judge that was kept goes on, to the digit, as one that judged the same seconds again. */
class KeptJudgesTest {
  private static final RatesHistory RATES = (tracker, second) -> Rates.UNKNOWN;
  private static final ObjectForm FORM =
      new ObjectForm(Map.of(CoolingSource.class, CoolingSource.NONE, RatesHistory.class, RATES));

  private static SoakRun run(Bin first, TauPrior prior) {
    SoakTerms terms = new SoakTerms(Limits.DEFAULT, prior);
    return new SoakRun(first.tracker(), first.firstUs(), terms, CoolingSource.NONE, RATES);
  }

  private static SoakRun kept(SoakRun run) {
    assertThat(run.keepable()).isTrue();
    try {
      return FORM.read(FORM.written(new TrackerWatch.Kept(run, 0)), TrackerWatch.Kept.class).run();
    } catch (IOException e) {
      throw new AssertionError(e);
    }
  }

  private static List<Sample> simulated(Drawn drawn, String tracker, int lengthS) {
    return Samples.simulated(
        SimulateOptions.usual(drawn.from(0, 10_000))
            .withMix(drawn.of(Mix.values()))
            .lasting(lengthS)
            .printing(drawn.of(new Double[] {0.5, 1.0, 4.0}))
            .named(tracker));
  }

  /** To the digit; what is not known is the same, too. */
  private static void same(Object one, Object other) {
    assertThat(one)
        .usingRecursiveComparison()
        .withEqualsForType(Double::equals, Double.class)
        .isEqualTo(other);
  }

  private static void goesOnAsItWas(Drawn drawn, int lengthS, boolean whole) {
    UnjudgedBins all = new UnjudgedBins();
    all.accept(simulated(drawn, Samples.TRACKER, lengthS));
    List<Bin> bins = all.longest();
    TauPrior prior = drawn.either() ? null : new TauPrior(drawn.from(300.0, 2000.0), 1.3, 4);
    SoakRun through = run(bins.get(0), prior);
    SoakRun broken = run(bins.get(0), prior);
    PendingWrites seen = new PendingWrites(new EarlierSoaks(List.of()));
    PendingWrites seenBroken = new PendingWrites(new EarlierSoaks(List.of()));
    Set<Integer> cuts = new HashSet<>();
    for (int i = 0; i < 4; i++) {
      cuts.add(drawn.from(5, bins.size() - 1));
    }
    for (int i = 0; i < bins.size(); i++) {
      through.accept(bins.get(i), seen);
      broken.accept(bins.get(i), seenBroken);
      if (cuts.contains(i)) {
        broken = kept(broken);
        same(broken.newest(), through.newest());
      } else if (i % 50 == 0) {
        same(broken.newest(), through.newest());
      }
    }
    assertThat(seenBroken.timelines).isEqualTo(seen.timelines);
    same(seenBroken.summaries, seen.summaries);
    if (whole) {
      same(kept(broken), kept(through));
    }
    long endUs = bins.get(bins.size() - 1).lastUs();
    same(broken.summary(endUs, true), through.summary(endUs, true));
  }

  @Test
  void itGoesOnAsItWas() {
    Drawn.casesFrom(7, 3, drawn -> goesOnAsItWas(drawn, 1200, false));
  }

  @Test
  @Tag("bench")
  void itGoesOnAsItWasInManySoaks() {
    Drawn.cases(30, drawn -> goesOnAsItWas(drawn, 5400, true));
  }

  /** The same life twice: what happens in it, and when it is begun anew, is drawn. */
  private static void livesAsWithout(Drawn drawn, int lengthS) {
    String[] trackers = {Samples.TRACKER, "T-0413"};
    List<List<Sample>> lines = new ArrayList<>();
    for (String tracker : trackers) {
      lines.add(simulated(drawn, tracker, lengthS));
    }
    FaultyStore keeping = new FaultyStore(-1, false);
    FaultyStore plain = new FaultyStore(-1, false);
    StoredLife one = new StoredLife(keeping).keepingJudges("this program");
    StoredLife other = new StoredLife(plain);
    List<StoredLife> lives = List.of(one, other);
    int[] sent = new int[trackers.length];
    List<Sample> late = new ArrayList<>();
    while (sent[0] < lines.get(0).size() || sent[1] < lines.get(1).size()) {
      int which = drawn.random().nextInt(trackers.length);
      List<Sample> its = lines.get(which);
      int to = Math.min(its.size(), sent[which] + drawn.from(1, 400));
      List<Sample> piece = new ArrayList<>(its.subList(sent[which], to));
      sent[which] = to;
      if (drawn.random().nextInt(8) == 0) {
        late.addAll(piece);
        piece.clear();
      }
      lives.forEach(life -> life.send(piece));
      double seconds = drawn.random().nextInt(6) == 0 ? 330 : drawn.from(0.5, 20.0);
      lives.forEach(life -> life.pass(seconds));
      switch (drawn.random().nextInt(12)) {
        case 0, 1, 2 -> {
          one.keepNow();
          if (drawn.either()) {
            lives.forEach(life -> life.pass(1));
          }
          lives.forEach(StoredLife::restart);
        }
        case 3 -> one.keepNow();
        case 4 -> {
          lives.forEach(StoredLife::restart);
        }
        case 5 -> {
          lives.forEach(life -> life.send(late));
          late.clear();
        }
        case 6 -> {
          if (drawn.random().nextInt(3) == 0) {
            lives.forEach(life -> life.end(trackers[which]));
          }
        }
        default -> {}
      }
      sameVerdicts(one, other);
    }
    for (StoredLife life : lives) {
      life.settle();
      life.pass(400);
      life.restart();
      life.finish();
    }
    sameVerdicts(one, other);
    for (String tracker : trackers) {
      StoreContents.of(keeping, tracker).isSameAs(StoreContents.of(plain, tracker));
    }
    assertThat(keeping.binsRead()).isLessThanOrEqualTo(plain.binsRead());
  }

  private static void sameVerdicts(StoredLife one, StoredLife other) {
    assertThat(one.watch().readiness())
        .usingRecursiveComparison()
        .isEqualTo(other.watch().readiness());
  }

  @Test
  void aLifeBegunAnewIsTheSameAsWithout() {
    Drawn.casesFrom(3, 2, drawn -> livesAsWithout(drawn, 500));
  }

  @Test
  @Tag("bench")
  void manyLivesBegunAnewAreTheSameAsWithout() {
    Drawn.cases(60, drawn -> livesAsWithout(drawn, 1800));
  }

  /** A life of twenty minutes, kept just before its last ten seconds; closed bins lag two. */
  private static StoredLife keptLife(FaultyStore store) {
    StoredLife life = new StoredLife(store).keepingJudges("this program");
    Samples.Maker maker = new Samples.Maker().every(1);
    life.send(maker.lines(1200).samples());
    life.keepNow();
    life.send(maker.lines(10).samples().subList(1200, 1210));
    return life;
  }

  /** How many bins a start reads. */
  private static int binsOfAStart(FaultyStore store, StoredLife life) {
    int before = store.binsRead();
    life.restart();
    return store.binsRead() - before;
  }

  @Test
  void aStartJudgesWhatCameSince() {
    FaultyStore store = new FaultyStore(-1, false);
    StoredLife life = keptLife(store);
    assertThat(binsOfAStart(store, life)).isEqualTo(10);
  }

  @Test
  void anotherProgramJudgesAllOfItAgain() {
    FaultyStore store = new FaultyStore(-1, false);
    StoredLife life = keptLife(store).keepingJudges("another program");
    assertThat(binsOfAStart(store, life)).isEqualTo(1208);
  }

  @Test
  void aLateSampleHasAllOfItJudgedAgain() {
    FaultyStore store = new FaultyStore(-1, false);
    StoredLife life = keptLife(store);
    life.send(new Samples.Maker().quiet(300.4).lines(0.1).samples());
    assertThat(binsOfAStart(store, life)).as("before it is worked in").isEqualTo(1208);
    life.settle();
    assertThat(binsOfAStart(store, life)).as("after it is worked in").isEqualTo(1208);
    life.keepNow();
    assertThat(binsOfAStart(store, life)).isZero();
  }

  @Test
  void newLimitsHaveAllOfItJudgedAgain() {
    FaultyStore store = new FaultyStore(-1, false);
    StoredLife life = keptLife(store);
    life.change(SomeLimits.with(LimitKey.STILL_FOR_S, 33));
    assertThat(binsOfAStart(store, life)).isEqualTo(1208);
  }

  @Test
  void aSoakThatEndedLeavesNone() {
    FaultyStore store = new FaultyStore(-1, false);
    StoredLife life = keptLife(store);
    String soak = life.newest(Samples.TRACKER).orElseThrow().id();
    assertThat(store.keptJudge(soak)).isNotNull();
    life.end(Samples.TRACKER);
    assertThat(store.keptJudge(soak)).isNull();
  }

  @Test
  void damageCostsNothingButTime() {
    FaultyStore store = new FaultyStore(-1, false);
    StoredLife life = keptLife(store);
    List<Readiness> before = life.watch().readiness();
    byte[] content = store.keptJudge(life.newest(Samples.TRACKER).orElseThrow().id()).content();
    content[content.length / 2] ^= 1;
    assertThat(binsOfAStart(store, life)).isEqualTo(1208);
    assertThat(life.watch().readiness()).usingRecursiveComparison().isEqualTo(before);
  }

  @Test
  void itIsKeptNowAndThenAFewAtOnce() {
    FaultyStore store = new FaultyStore(-1, false);
    StoredLife life = new StoredLife(store).keepingJudges("this program");
    List<String> trackers = IntStream.range(0, 10).mapToObj(i -> "T-" + i).toList();
    for (String tracker : trackers) {
      life.send(new Samples.Maker().named(tracker).every(1).lines(400).samples());
    }
    for (int tick = 1; tick <= 3; tick++) {
      life.pass(0.5);
      assertThat(trackers.stream().filter(t -> isKept(store, life, t)))
          .hasSize(Math.min(10, KeptJudges.AT_ONCE * tick));
    }
  }

  private static boolean isKept(FaultyStore store, StoredLife life, String tracker) {
    return store.keptJudge(life.newest(tracker).orElseThrow().id()) != null;
  }

  /** Else the first soak that holds one of it ends the keeping of all. */
  @Test
  void allThatAJudgeHoldsCanBeKept() {
    Set<Class<?>> seen = new HashSet<>();
    addHeld(TrackerWatch.Kept.class, seen);
    assertThat(seen).hasSizeGreaterThan(60);
    assertThat(seen)
        .allMatch(type -> type.isInterface() || Serializable.class.isAssignableFrom(type));
  }

  private static void addHeld(Type type, Set<Class<?>> seen) {
    if (type instanceof ParameterizedType of) {
      addHeld(of.getRawType(), seen);
      for (Type each : of.getActualTypeArguments()) {
        addHeld(each, seen);
      }
    } else if (type instanceof GenericArrayType array) {
      addHeld(array.getGenericComponentType(), seen);
    } else if (type instanceof Class<?> plain) {
      Class<?> one = plain.isArray() ? plain.getComponentType() : plain;
      boolean known =
          one.isPrimitive() || one.isArray() || one == Object.class || one == Record.class;
      if (!known && seen.add(one) && one.getName().startsWith("soakbench.")) {
        for (Field field : one.getDeclaredFields()) {
          if (!Modifier.isStatic(field.getModifiers())
              && !Modifier.isTransient(field.getModifiers())) {
            addHeld(field.getGenericType(), seen);
          }
        }
      }
    }
  }
}
