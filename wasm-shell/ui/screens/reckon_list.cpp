// The calculators: every reckoning of the table by its group, each leading to its own screen.
#include "ui/screens/parts.h"
#include "ui/screens/screens.h"

namespace tawny::ui {
namespace {

constexpr float kColumnGap = 24;

class ReckonListScreen : public Screen {
 public:
  explicit ReckonListScreen(std::string pond) : pond_(std::move(pond)) {}

  void draw(App& app, Ui& ui) override {
    const Words& words = ui.words();
    app.frame_bars(ui, words("reckon.title"));
    ui.begin_content("reckon_list", 0, true);
    ui.text("reckon/list/about",
            pond_.empty() ? words("reckon.title.about")
                          : words(Message("reckon.title.of_pond").with("pond", Text{pond_name(app, pond_)})),
            TextSize::body, Tone::quiet);
    ui.gap(16);
    const std::vector<Reckoning>& all = reckonings();
    const Reckoning* opened = nullptr;
    const bool beside = ui.columns() > 1;
    bool moved = false;
    ui.begin_cells(beside ? 2 : 1, kColumnGap);
    for (std::size_t i = 0; i < all.size();) {
      // Two columns of about the same length.
      if (beside && !moved && 2 * i >= all.size()) {
        ui.next_cell();
        moved = true;
      }
      const std::string group(name_of(all[i].group));
      ui.heading("reckon/group/" + group, words("reckon.group." + group));
      ui.begin_card("reckon/group/" + group + "/card");
      const ReckonGroup same = all[i].group;
      for (; i < all.size() && all[i].group == same; ++i) {
        if (draw_row(ui, all[i])) opened = &all[i];
      }
      ui.end_card();
    }
    ui.end_cells();
    ui.gap(16);
    ui.end_content();
    if (opened != nullptr) app.open(make_reckon_screen(*opened, pond_));
  }

 private:
  static bool draw_row(Ui& ui, const Reckoning& reckoning) {
    const std::string name(reckoning.name);
    const std::string title = ui.words()("reckon." + name);
    const std::string about = ui.words()("reckon." + name + ".about");
    Ui::Row row;
    row.title = title;
    row.remark = about;
    return ui.row("reckon/open/" + name, row);
  }

  std::string pond_;
};

}  // namespace

std::unique_ptr<Screen> make_reckon_list_screen(const std::string& pond) {
  return std::make_unique<ReckonListScreen>(pond);
}

}  // namespace tawny::ui
