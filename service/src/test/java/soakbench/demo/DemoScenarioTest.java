package soakbench.demo;

import static org.assertj.core.api.Assertions.assertThat;

import java.util.List;
import java.util.Locale;
import java.util.Set;
import java.util.TreeSet;
import java.util.stream.Collectors;
import org.junit.jupiter.api.Test;
import soakbench.demo.simulation.Recipe;
import soakbench.demo.simulation.Truth;
import soakbench.demo.unit.Attitude;
import soakbench.demo.unit.DemoUnits;
import soakbench.demo.unit.Motion;
import soakbench.demo.unit.Span;
import soakbench.model.Tracker;

class DemoScenarioTest {
  private static final double SPEED = DemoSettings.DEFAULT_SPEED;
  private static final List<DemoTracker> TRACKERS =
      new DemoScenario(DemoSettings.DEFAULT_SEED, Recipes.START_US).trackers();

  @Test
  void theFirstTrackerIsTrulyReadyAfterSomeTwentySecondsOfWatching() {
    int readyS = truth("Alder").readyS().get(0)[0];
    assertThat(readyS / SPEED).isBetween(15.0, 25.0);
    for (DemoTracker each : TRACKERS) {
      List<int[]> ready = Truth.of(each.first().recipe()).readyS();
      assertThat(ready.isEmpty() || ready.get(0)[0] >= readyS).as(each.tracker().name()).isTrue();
    }
  }

  @Test
  void theOthersFollowOverTenMinutesOfWatching() {
    for (String name :
        List.of("Rowan", "Hazel", "Aspen", "Maple", "Elder", "Birch", "Holly", "Larch", "Poplar")) {
      assertThat(truth(name).readyS()).as(name).isNotEmpty();
      double readyS =
          (tracker(name).first().recipe().startUs() - Recipes.START_US) / 1e6
              + truth(name).readyS().get(0)[0];
      assertThat(readyS / SPEED).as(name).isBetween(25.0, 600.0);
    }
  }

  @Test
  void theBadOneIsNeverReady() {
    assertThat(truth("Linden").readyS()).isEmpty();
  }

  @Test
  void oneStallsBelowTheBandUntilItGetsAnotherCover() {
    Truth larch = truth("Larch");
    for (int s = 0; s <= 5400; s++) {
      assertThat(larch.temperatureC()[s]).isLessThan(27);
    }
    assertThat(Math.abs(larch.rateCPerMin()[3600])).isLessThan(0.01);
  }

  @Test
  void oneGetsHotIsUncoveredAndCoolsIntoTheBand() {
    Truth holly = truth("Holly");
    assertThat(holly.hotS()).isNotEmpty();
    assertThat(holly.hotS().get(0)[0] / SPEED).isBetween(30.0, 120.0);
    assertThat(holly.hotS().get(holly.hotS().size() - 1)[1] / SPEED).isLessThan(300);
    assertThat(holly.readyS()).isNotEmpty();
  }

  @Test
  void oneComesWarmAndCoolsIntoTheBand() {
    Truth birch = truth("Birch");
    assertThat(birch.temperatureC()[120]).isGreaterThan(34.3);
    assertThat(birch.rateCPerMin()[120]).isLessThan(-0.1);
  }

  @Test
  void oneIsCutOffForLessThanEndsASoak() {
    Span pulled = tracker("Aspen").first().pulled().get(0);
    assertThat(pulled.toS() - pulled.fromS()).isBetween(60.0, 590.0);
    assertThat(pulled.fromS() / SPEED).isBetween(20.0, 240.0);
  }

  @Test
  void onePrintsTooSeldomToSeeMotion() {
    assertThat(tracker("Yew").first().recipe().stream().rateHz()).isLessThan(0.5);
  }

  @Test
  void theOneThatIsCalibratedRestsOnSixFacesAndGoesBackToItsPlace() {
    Recipe recipe = tracker("Alder").first().recipe();
    List<Motion> motions = recipe.events().motions();
    assertThat(motions).hasSize(8);
    Attitude attitude = new Attitude(motions);
    Set<String> faces = new TreeSet<>();
    for (int i = 0; i + 1 < motions.size(); i++) {
      double restS = motions.get(i + 1).fromS() - motions.get(i).toS();
      assertThat(restS).isGreaterThan(2.5);
      attitude.advanceTo(motions.get(i).toS() + restS / 2);
      faces.add(face(attitude.upG()));
    }
    assertThat(faces).containsExactlyInAnyOrder("+x", "-x", "+y", "-y", "+z", "-z");
    attitude.advanceTo(recipe.durationS());
    assertThat(face(attitude.upG())).isEqualTo("+z");
    Span off = recipe.events().powerOffs().get(0);
    assertThat(off.toS() - off.fromS()).isLessThan(180);
    assertThat(truth("Alder").readyS())
        .as("ready when it is lifted, and again later")
        .anyMatch(r -> r[0] < 2700 && r[1] >= 2698)
        .anyMatch(r -> r[0] > 2800);
  }

  @Test
  void oneLotIsWorse() {
    double worse = meanSlope(DemoUnits.WORSE_LOT);
    double good = meanSlope(DemoUnits.GOOD_LOT);
    assertThat(worse).isGreaterThan(1.5 * good);
  }

  @Test
  void theRosterNamesTwelveTrackersInTwoLotsOnTwoBenches() {
    assertThat(TRACKERS).hasSize(12);
    assertThat(distinct(Tracker::id)).hasSize(12);
    assertThat(distinct(Tracker::name)).hasSize(12);
    assertThat(distinct(Tracker::slot)).hasSize(12);
    assertThat(distinct(Tracker::lot)).hasSize(2);
    assertThat(distinct(Tracker::rack)).hasSize(2);
    for (DemoTracker each : TRACKERS) {
      assertThat(each.tracker().id()).isEqualTo(each.first().recipe().unit().id());
      assertThat(each.tracker().name().toLowerCase(Locale.ROOT)).matches("[a-z]+");
    }
  }

  @Test
  void afterItsStoryEachSoaksAgainFromColdAfterARestThatEndsTheSoakBefore() {
    for (DemoTracker each : TRACKERS) {
      long endUs = each.first().endUs();
      for (int round = 1; round < 4; round++) {
        DemoSoak soak = each.soak(round, endUs);
        assertThat(soak.recipe().startUs() - endUs).isGreaterThan(600_000_000L);
        assertThat(soak.recipe().heating().startC()).isLessThan(25);
        assertThat(soak.recipe().unit()).isEqualTo(each.first().recipe().unit());
        assertThat(each.soak(round, endUs).recipe().run().seed())
            .isEqualTo(soak.recipe().run().seed());
        endUs = soak.endUs();
      }
    }
  }

  private static double meanSlope(String lot) {
    return TRACKERS.stream()
        .filter(p -> p.tracker().lot().equals(lot) && !p.tracker().name().equals("Linden"))
        .flatMap(p -> p.first().recipe().unit().axes().stream())
        .mapToDouble(a -> Math.abs(a.coefficients()[1]))
        .average()
        .orElseThrow();
  }

  private static Set<String> distinct(java.util.function.Function<Tracker, String> figure) {
    return TRACKERS.stream().map(DemoTracker::tracker).map(figure).collect(Collectors.toSet());
  }

  private static String face(double[] up) {
    for (int i = 0; i < 3; i++) {
      if (Math.abs(up[i]) > 0.999) {
        return (up[i] > 0 ? "+" : "-") + "xyz".charAt(i);
      }
    }
    return "none";
  }

  private static DemoTracker tracker(String name) {
    return TRACKERS.stream().filter(p -> p.tracker().name().equals(name)).findFirst().orElseThrow();
  }

  private static Truth truth(String name) {
    return Truth.of(tracker(name).first().recipe());
  }
}
