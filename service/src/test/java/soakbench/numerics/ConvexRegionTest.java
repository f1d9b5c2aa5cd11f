package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.within;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.ValueSource;

/** Areas, centroids and second moments of figures whose formulas are in any handbook. */
class ConvexRegionTest {
  private static final double TINY = 1e-12;

  @Test
  void aRectangleHasTheVariancesOfTwoEvenSpreads() {
    ConvexRegion.Figures f = new ConvexRegion(1, 5, -2, 4).figures();
    assertThat(f.area()).isCloseTo(24, within(TINY));
    assertThat(f.meanX()).isCloseTo(3, within(TINY));
    assertThat(f.meanY()).isCloseTo(1, within(TINY));
    assertThat(f.varX()).as("b^2 / 12").isCloseTo(16 / 12.0, within(TINY));
    assertThat(f.varY()).as("h^2 / 12").isCloseTo(36 / 12.0, within(TINY));
    assertThat(f.cov()).isCloseTo(0, within(TINY));
  }

  /**
   * Right triangle (0, 0), (b, 0), (0, h): centroid at thirds, variances b^2/18, h^2/18, -bh/36.
   */
  @Test
  void aRightTriangleHasItsTextbookMoments() {
    double b = 3;
    double h = 2;
    ConvexRegion region = new ConvexRegion(0, b, 0, h);
    region.keep(1 / b, 1 / h, 1);
    ConvexRegion.Figures f = region.figures();
    assertThat(f.area()).isCloseTo(b * h / 2, within(TINY));
    assertThat(f.meanX()).isCloseTo(b / 3, within(TINY));
    assertThat(f.meanY()).isCloseTo(h / 3, within(TINY));
    assertThat(f.varX()).isCloseTo(b * b / 18, within(TINY));
    assertThat(f.varY()).isCloseTo(h * h / 18, within(TINY));
    assertThat(f.cov()).isCloseTo(-b * h / 36, within(TINY));
  }

  @Test
  void aRegularPolygonNearsTheDiscThatItSurrounds() {
    int sides = 720;
    ConvexRegion region = new ConvexRegion(-2, 2, -2, 2);
    for (int i = 0; i < sides; i++) {
      double a = 2 * Math.PI * i / sides;
      region.keep(Math.cos(a), Math.sin(a), 1);
    }
    ConvexRegion.Figures f = region.figures();
    assertThat(f.area()).isCloseTo(sides * Math.tan(Math.PI / sides), within(1e-10));
    assertThat(f.varX()).as("r^2 / 4").isCloseTo(0.25, within(1e-4));
    assertThat(f.varY()).isCloseTo(0.25, within(1e-4));
    assertThat(f.cov()).isCloseTo(0, within(TINY));
  }

  @ParameterizedTest
  @ValueSource(doubles = {0, 1e3, 1e6})
  void aShiftMovesTheMiddleAndNothingElse(double by) {
    ConvexRegion region = new ConvexRegion(by, by + 1, -by, -by + 1);
    region.keep(1, 1, 1);
    ConvexRegion.Figures f = region.figures();
    assertThat(f.area()).isCloseTo(0.5, within(1e-9));
    assertThat(f.meanX() - by).isCloseTo(1 / 3.0, within(1e-9));
    assertThat(f.varY()).isCloseTo(1 / 18.0, within(1e-9));
  }

  @Test
  void halfPlanesThatHoldItAllChangeNothingAndOnesThatMissItLeaveNothing() {
    ConvexRegion region = new ConvexRegion(0, 1, 0, 1);
    region.keep(1, 1, 2.5);
    assertThat(region.figures().area()).isCloseTo(1, within(TINY));
    region.keep(-1, 0, -3);
    assertThat(region.figures().area()).isZero();
    region.keep(1, 0, 10);
    assertThat(region.figures().area()).as("what is gone stays gone").isZero();
  }

  @Test
  void aRegionOfNoWidthHasNoArea() {
    ConvexRegion region = new ConvexRegion(0, 1, 0, 1);
    region.keep(1, 0, 0.5);
    region.keep(-1, 0, -0.5);
    assertThat(region.figures().area()).isZero();
  }
}
