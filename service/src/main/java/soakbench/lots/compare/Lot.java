package soakbench.lots.compare;

import java.util.List;

/**
 * A lot with its units that have figures.
 *
 * @param name of the lot
 * @param units by id
 */
public record Lot(String name, List<LotUnit> units) {
  public Lot {
    units = List.copyOf(units);
  }
}
