package soakbench.numerics;

/**
 * A convex polygon in the plane that half-planes cut down (Sutherland and Hodgman, CACM 17(1),
 * 1974), and its area, centroid and second moments. Not thread-safe.
 */
final class ConvexRegion {
  private double[] x;
  private double[] y;
  private double[] nextX;
  private double[] nextY;
  private int size;

  /** A rectangle. */
  ConvexRegion(double lowX, double highX, double lowY, double highY) {
    x = new double[16];
    y = new double[16];
    nextX = new double[16];
    nextY = new double[16];
    double[] cornersX = {lowX, highX, highX, lowX};
    double[] cornersY = {lowY, lowY, highY, highY};
    System.arraycopy(cornersX, 0, x, 0, 4);
    System.arraycopy(cornersY, 0, y, 0, 4);
    size = 4;
  }

  /** Keeps only where {@code a x + b y <= c}. */
  void keep(double a, double b, double c) {
    if (size == 0) {
      return;
    }
    grow(2 * size + 2);
    int kept = 0;
    for (int i = 0; i < size; i++) {
      int j = (i + 1) % size;
      double here = a * x[i] + b * y[i] - c;
      double there = a * x[j] + b * y[j] - c;
      if (here <= 0) {
        nextX[kept] = x[i];
        nextY[kept++] = y[i];
      }
      if (here < 0 && there > 0 || here > 0 && there < 0) {
        double f = here / (here - there);
        nextX[kept] = x[i] + f * (x[j] - x[i]);
        nextY[kept++] = y[i] + f * (y[j] - y[i]);
      }
    }
    double[] swapX = x;
    double[] swapY = y;
    x = nextX;
    y = nextY;
    nextX = swapX;
    nextY = swapY;
    size = kept;
  }

  private void grow(int needed) {
    if (nextX.length < needed) {
      nextX = new double[needed];
      nextY = new double[needed];
    }
  }

  /**
   * Figures of the region as if all its points were equally likely.
   *
   * @param area 0 where nothing is left
   */
  record Figures(double area, double meanX, double meanY, double varX, double varY, double cov) {}

  Figures figures() {
    if (size < 3) {
      return new Figures(0, 0, 0, 0, 0, 0);
    }
    // About the first corner, so that a small region far from the origin keeps its digits.
    double a2 = 0;
    double sx = 0;
    double sy = 0;
    double sxx = 0;
    double syy = 0;
    double sxy = 0;
    for (int i = 1; i + 1 < size; i++) {
      double ux = x[i] - x[0];
      double uy = y[i] - y[0];
      double vx = x[i + 1] - x[0];
      double vy = y[i + 1] - y[0];
      double cross = ux * vy - vx * uy;
      a2 += cross;
      sx += cross * (ux + vx) / 3;
      sy += cross * (uy + vy) / 3;
      sxx += cross * (ux * ux + ux * vx + vx * vx) / 6;
      syy += cross * (uy * uy + uy * vy + vy * vy) / 6;
      sxy += cross * (2 * ux * uy + ux * vy + vx * uy + 2 * vx * vy) / 12;
    }
    if (!(Math.abs(a2) > 0)) {
      return new Figures(0, 0, 0, 0, 0, 0);
    }
    double mx = sx / a2;
    double my = sy / a2;
    return new Figures(
        Math.abs(a2) / 2,
        x[0] + mx,
        y[0] + my,
        Math.max(0, sxx / a2 - mx * mx),
        Math.max(0, syy / a2 - my * my),
        sxy / a2 - mx * my);
  }
}
