package soakbench.numerics;

import static org.assertj.core.api.Assertions.assertThat;
import static org.assertj.core.api.Assertions.assertThatThrownBy;
import static org.assertj.core.api.Assertions.within;

import org.hipparchus.linear.CholeskyDecomposition;
import org.hipparchus.linear.MatrixUtils;
import org.hipparchus.linear.RealMatrix;
import org.junit.jupiter.api.Test;
import org.junit.jupiter.params.ParameterizedTest;
import org.junit.jupiter.params.provider.CsvSource;
import org.junit.jupiter.params.provider.ValueSource;

/** The factor against matrices whose factor, determinant or inverse is known in closed form. */
class CholeskyTest {

  /** Rows of the factor's inverse are what it makes of the columns of the identity. */
  private static double[][] inverseFactor(Cholesky factor, int n) {
    return factor.whitened(MatrixUtils.createRealIdentityMatrix(n).getData());
  }

  private static double[][] hilbert(int n) {
    double[][] h = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        h[i][j] = 1.0 / (i + j + 1);
      }
    }
    return h;
  }

  /**
   * The 3 by 3 worked example of most introductions (from memory): [[4, 12, -16], [12, 37, -43],
   * [-16, -43, 98]] has the factor [[2], [6, 1], [-8, 5, 3]], whose inverse by hand is [[1/2], [-3,
   * 1], [19/3, -5/3, 1/3]].
   */
  @Test
  void theWorkedExampleOfThreeRowsComesOut() {
    Cholesky factor = Cholesky.of(new double[][] {{4, 0, 0}, {12, 37, 0}, {-16, -43, 98}});
    double[][] inverse = inverseFactor(factor, 3);
    assertThat(inverse[0]).containsExactly(new double[] {0.5, 0, 0}, within(1e-15));
    assertThat(inverse[1]).containsExactly(new double[] {-3, 1, 0}, within(1e-14));
    assertThat(inverse[2])
        .containsExactly(new double[] {19 / 3.0, -5 / 3.0, 1 / 3.0}, within(1e-14));
    assertThat(factor.logDeterminant()).isCloseTo(2 * Math.log(2 * 1 * 3), within(1e-14));
    assertThat(factor.logDeterminant(2)).isCloseTo(2 * Math.log(2), within(1e-14));
  }

  /**
   * Determinants of Hilbert's matrices are reciprocals of whole numbers: 12, 2160, 6048000,
   * 266716800000 for 2 to 5 rows (sequence A005249 of the On-Line Encyclopedia of Integer
   * Sequences).
   */
  @ParameterizedTest
  @CsvSource({"2, 12", "3, 2160", "4, 6048000", "5, 266716800000"})
  void determinantsOfHilbertsMatricesAreThePublishedOnes(int n, double reciprocal) {
    assertThat(Cholesky.of(hilbert(n)).logDeterminant())
        .isCloseTo(-Math.log(reciprocal), within(1e-10));
  }

  /**
   * Its inverse has whole numbers: the four-row one is [[16, -120, 240, -140], [-120, 1200, -2700,
   * 1680], [240, -2700, 6480, -4200], [-140, 1680, -4200, 2800]] (R. M. Gregory and D. L. Karney, A
   * Collection of Matrices for Testing Computational Algorithms, 1969; from memory, and checked by
   * multiplying).
   */
  @Test
  void theInverseOfHilbertsMatrixIsThePublishedOne() {
    double[][] inverse = Cholesky.of(hilbert(4)).inverse();
    double[][] published = {
      {16, -120, 240, -140},
      {-120, 1200, -2700, 1680},
      {240, -2700, 6480, -4200},
      {-140, 1680, -4200, 2800}
    };
    for (int i = 0; i < 4; i++) {
      assertThat(inverse[i]).containsExactly(published[i], within(1e-8));
    }
  }

  /** Pascal's symmetric matrix of binomials is the product of his triangle and its transpose. */
  @Test
  void whatWhitensPascalsMatrixIsHisTriangleWithSigns() {
    int n = 7;
    double[][] pascal = new double[n][n];
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        pascal[i][j] = i == 0 || j == 0 ? 1 : pascal[i - 1][j] + pascal[i][j - 1];
      }
    }
    Cholesky factor = Cholesky.of(pascal);
    assertThat(factor.logDeterminant()).as("determinant 1").isCloseTo(0, within(1e-10));
    double[][] inverse = inverseFactor(factor, n);
    assertThat(inverse[4]).containsExactly(new double[] {1, -4, 6, -4, 1, 0, 0}, within(1e-10));
    assertThat(inverse[6]).containsExactly(new double[] {1, -6, 15, -20, 15, -6, 1}, within(1e-9));
  }

  /**
   * A first-order Markov process whitens to its innovations: z_0 = x_0, z_i = (x_i - r x_(i-1)) /
   * sqrt(1 - r^2), with the determinant (1 - r^2)^(n-1).
   */
  @ParameterizedTest
  @ValueSource(doubles = {0, 0.3, -0.6, 0.95})
  void aMarkovProcessWhitensToItsInnovations(double r) {
    int n = 12;
    double[] row = new double[n];
    double[] x = Noises.white(n, 1, 4);
    for (int lag = 0; lag < n; lag++) {
      row[lag] = Math.pow(r, lag);
    }
    Cholesky factor = Cholesky.ofToeplitz(row);
    double[] white = factor.whitened(x);
    assertThat(white[0]).isCloseTo(x[0], within(1e-14));
    for (int i = 1; i < n; i++) {
      assertThat(white[i]).isCloseTo((x[i] - r * x[i - 1]) / Math.sqrt(1 - r * r), within(1e-11));
    }
    assertThat(factor.logDeterminant()).isCloseTo((n - 1) * Math.log(1 - r * r), within(1e-11));
  }

  @ParameterizedTest
  @ValueSource(ints = {1, 2, 17, 60})
  void itIsTheLibrarysFactor(int n) {
    double[] row = HighPassedNoise.autocovariance(n, 30, 1, 0.5, 31);
    RealMatrix dense = MatrixUtils.createRealMatrix(n, n);
    for (int i = 0; i < n; i++) {
      for (int j = 0; j < n; j++) {
        dense.setEntry(i, j, row[Math.abs(i - j)]);
      }
    }
    CholeskyDecomposition library = new CholeskyDecomposition(dense, 1e-12, 0);
    double[] x = Noises.white(n, 1, 8);
    for (Cholesky own : new Cholesky[] {Cholesky.ofToeplitz(row), Cholesky.of(dense.getData())}) {
      RealMatrix back =
          library.getL().multiply(MatrixUtils.createColumnRealMatrix(own.whitened(x)));
      assertThat(back.getColumn(0)).containsExactly(x, within(1e-12));
      assertThat(own.logDeterminant()).isCloseTo(Math.log(library.getDeterminant()), within(1e-10));
    }
  }

  @Test
  void aColumnThatGrowsIsWhitenedAsTheWholeOne() {
    double[] row = HighPassedNoise.autocovariance(20, 30, 1, 0.8, Double.POSITIVE_INFINITY);
    Cholesky factor = Cholesky.ofToeplitz(row);
    double[] x = Noises.white(20, 1, 3);
    double[] growing = new double[20];
    for (int i = 0; i < 20; i++) {
      growing[i] = factor.next(growing, i, x[i]);
    }
    assertThat(growing).containsExactly(factor.whitened(x));
    double[] shorter = {x[0], x[1], x[2]};
    assertThat(factor.whitened(shorter)).containsExactly(growing[0], growing[1], growing[2]);
  }

  @Test
  void theUpperHalfIsNotRead() {
    double[][] lower = {{4, Double.NaN}, {2, 5}};
    assertThat(Cholesky.of(lower).whitened(new double[] {2, 5}))
        .containsExactly(new double[] {1, 2}, within(1e-15));
  }

  @Test
  void whatIsNotPositiveDefiniteIsRefusedByItsRow() {
    assertThatThrownBy(() -> Cholesky.of(new double[][] {{1, 0}, {2, 4}}))
        .isInstanceOf(IllegalArgumentException.class)
        .hasMessageContaining("row 1");
    assertThatThrownBy(() -> Cholesky.ofToeplitz(new double[] {-1})).hasMessageContaining("row 0");
  }

  @Test
  void aColumnThatDependsOnOthersLeavesItsShareInPlaceOfARefusal() {
    Cholesky factor = Cholesky.ofDependent(new double[][] {{1, 0}, {2, 4}}, 1e-10);
    assertThat(factor.logDeterminant()).isCloseTo(Math.log(1e-10 * 4), within(1e-9));
    Cholesky sound = Cholesky.ofDependent(new double[][] {{4, 0}, {2, 5}}, 1e-10);
    assertThat(sound.logDeterminant()).isCloseTo(Math.log(16), within(1e-14));
  }

  @Test
  void aColumnOfNothingIsLeftOut() {
    double[][] products = {{4, 0, 2}, {0, 0, 0}, {2, 0, 5}};
    double[][] without = {{4, 2}, {2, 5}};
    assertThat(Cholesky.ofDependent(products, 1e-10).logDeterminant())
        .isCloseTo(Cholesky.of(without).logDeterminant(), within(1e-12));
    assertThatThrownBy(() -> Cholesky.of(products)).isInstanceOf(IllegalArgumentException.class);
  }
}
