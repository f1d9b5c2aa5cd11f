package soakbench.pages;

import static org.assertj.core.api.Assertions.assertThat;
import static org.awaitility.Awaitility.await;

import org.junit.jupiter.api.Test;
import org.junit.jupiter.api.condition.EnabledIf;
import soakbench.OnABoard;

/** The dictionary of columns in a real browser. */
@EnabledIf(value = "soakbench.Chromium#isThere", disabledReason = "Chromium is not there")
class ColumnsPageTest extends OnABoard {

  @Test
  void aColumnIsFoundByItsNameWithUnitMeaningAndWhereItStands() {
    chromium.complaints();
    chromium.driver().get(service.url() + "columns?name=tempco_y_dps_per_c_se");
    await().atMost(PATIENCE).until(() -> chromium.texts("#list tbody tr").size() == 1);
    assertThat(chromium.text("#headline")).isEqualTo("What columns and members mean");
    assertThat(chromium.text("#list tbody tr"))
        .contains("tempco_x_dps_per_c", "tempco_z_dps_per_c_high")
        .contains("deg/s per degC", "Slope of one axis' bias", "/api/figures.csv");
    assertThat(chromium.text("#count")).matches("1 of [2-9]\\d\\d names");

    chromium.one("#name").clear();
    chromium.one("#name").sendKeys("heading deg/min");
    await().atMost(PATIENCE).until(() -> chromium.texts("#list tbody tr").size() > 3);
    assertThat(chromium.texts("#list tbody td:nth-child(2)")).containsOnly("deg/min");
    assertThat(chromium.driver().getCurrentUrl()).endsWith("?name=heading+deg%2Fmin");

    chromium.one("#name").sendKeys(" nonsense");
    await().atMost(PATIENCE).until(() -> chromium.one("#none").isDisplayed());
    assertThat(chromium.complaints()).isEmpty();
  }
}
