package soakbench.api.lots;

import java.time.ZoneId;
import java.util.ArrayList;
import java.util.List;
import java.util.Map;
import java.util.Set;
import java.util.SortedMap;
import java.util.TreeMap;
import java.util.stream.Collectors;
import soakbench.api.http.Problem;
import soakbench.api.http.ProblemException;
import soakbench.api.http.TrackerFilter;
import soakbench.api.http.TrackerNames;
import soakbench.lots.MeasuredDays;
import soakbench.lots.TrackerCurves;
import soakbench.lots.TrackerFigures;
import soakbench.lots.compare.Lot;
import soakbench.lots.compare.LotUnit;
import soakbench.readiness.Calibration;
import soakbench.store.Database;
import soakbench.store.derived.UnitFigures;

/** Puts lots together from what is stored of their units. */
final class LotSource {
  private final Database database;
  private final TrackerNames names;
  private final ZoneId zone;

  /**
   * @param zone by whose midnight a day ends
   */
  LotSource(Database database, TrackerNames names, ZoneId zone) {
    this.database = database;
    this.names = names;
    this.zone = zone;
  }

  /** How many trackers the roster puts into each lot, by lot. */
  SortedMap<String, Integer> listed() {
    return names.lots();
  }

  /**
   * The lots of the roster that pass a filter, by name: by rack and time those of which a unit
   * does, by the end of its newest soak.
   *
   * @param atC at which temperature bias and coefficient are wanted, degC; null for each unit's own
   */
  List<Lot> all(TrackerFilter which, Double atC) {
    SortedMap<String, Integer> listed = listed();
    UnitFigures.Asked asked = UnitFigures.Asked.ALL;
    if (which.lot() != null) {
      listed.keySet().retainAll(Set.of(which.lot()));
      asked = UnitFigures.Asked.lot(which.lot());
    }
    return lots(asked, listed, atC).stream().filter(lot -> passes(which, lot)).toList();
  }

  private static boolean passes(TrackerFilter which, Lot lot) {
    if (which.rack() == null && which.sinceUs() == null) {
      return true;
    }
    return lot.units().stream()
        .anyMatch(
            unit ->
                which.has(unit.listed().lot(), unit.listed().rack())
                    && which.hasTime(unit.figures().soaks().newest().endUs()));
  }

  /**
   * Some lots, in this order.
   *
   * @param wanted lots that the roster knows
   */
  List<Lot> of(List<String> wanted, Double atC) {
    SortedMap<String, Integer> listed = listed();
    SortedMap<String, Integer> of = new TreeMap<>();
    wanted.forEach(name -> of.put(name, listed.getOrDefault(name, 0)));
    Map<String, Lot> found =
        lots(UnitFigures.Asked.lots(wanted), of, atC).stream()
            .collect(Collectors.toMap(Lot::name, lot -> lot));
    return wanted.stream().map(found::get).toList();
  }

  /**
   * One lot.
   *
   * @throws ProblemException 404 if the roster has none of this name
   */
  Lot named(String name, Double atC) {
    Set<String> known = listed().keySet();
    if (!known.contains(name)) {
      throw new ProblemException(Problem.Kind.UNKNOWN_LOT, LotParameters.unknownLot(name, known));
    }
    return of(List.of(name), atC).get(0);
  }

  /** The bias curves of a lot's units, by id. */
  List<TrackerCurves> curves(String lot) {
    return database.unitFigures().of(UnitFigures.Asked.lot(lot));
  }

  private List<Lot> lots(UnitFigures.Asked asked, SortedMap<String, Integer> listed, Double atC) {
    Map<String, Calibration> checked = database.calibrationTable().newestChecked();
    Map<String, MeasuredDays> days = database.unitDays().of(asked.lots(), zone);
    Map<String, List<LotUnit>> units = new TreeMap<>();
    listed.keySet().forEach(name -> units.put(name, new ArrayList<>()));
    for (TrackerCurves curves : database.unitFigures().of(asked)) {
      TrackerFigures figures = atC == null ? curves.figures() : curves.at(atC);
      LotUnit unit = unit(figures, checked.get(figures.tracker()), days);
      if (units.containsKey(unit.listed().lot())) {
        units.get(unit.listed().lot()).add(unit);
      }
    }
    return units.entrySet().stream()
        .map(e -> new Lot(e.getKey(), e.getValue(), listed.get(e.getKey())))
        .toList();
  }

  private LotUnit unit(
      TrackerFigures figures, Calibration checked, Map<String, MeasuredDays> days) {
    return new LotUnit(
        names.entry(figures.tracker()),
        figures,
        checked == null ? null : checked.check().result(),
        days.get(figures.tracker()));
  }
}
