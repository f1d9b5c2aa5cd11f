package soakbench.lots.compare;

import java.util.List;

/**
 * A lot with its units that have figures.
 *
 * @param name of the lot
 * @param units by id
 * @param listed how many trackers the roster puts into it
 */
public record Lot(String name, List<LotUnit> units, int listed) {
  public Lot {
    units = List.copyOf(units);
  }
}
