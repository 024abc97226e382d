#include "logbook/standing.h"

#include <cstddef>
#include <string_view>
#include <tuple>

namespace tawny {
namespace {

constexpr std::size_t kNone = static_cast<std::size_t>(-1);

// An entry that points or is pointed at; or the place of one that is not here.
struct Node {
  const Entry* entry = nullptr;
  std::size_t corrects = kNone;
  std::size_t voids = kNone;
  std::size_t pointers_left = 0;  // entries that point here and have not been looked at
  bool voided = false;
  std::size_t correction = kNone;  // the one among all corrections below that takes this one's place
  std::size_t shown = kNone;       // what stands for this one, itself included
};

class Tree {
 public:
  Tree(const Logbook& logbook, const std::vector<const Entry*>& pointing) {
    for (const Entry* entry : pointing) {
      // One whose reference fits another too is pointed at by none.
      const std::string reference = to_reference(entry->id);
      const bool alone = logbook.find(reference) == entry;
      const std::size_t from = node_of(alone ? reference : entry->id.hash, entry);
      if (!entry->corrects.empty()) {
        const std::size_t to = node_of(entry->corrects, logbook.find(entry->corrects));
        nodes_[from].corrects = to;
        ++nodes_[to].pointers_left;
      }
      if (!entry->voids.empty()) {
        const std::size_t to = node_of(entry->voids, logbook.find(entry->voids));
        nodes_[from].voids = to;
        ++nodes_[to].pointers_left;
      }
    }
  }

  // From the last word back to the first, each node after all that point at it. Hashes rule out rings; should
  // one turn up all the same, its nodes are never reached and simply stand.
  void settle() {
    for (std::size_t i = 0; i < nodes_.size(); ++i) {
      if (nodes_[i].pointers_left == 0) order_.push_back(i);
    }
    for (std::size_t next = 0; next < order_.size(); ++next) {
      const std::size_t at = order_[next];
      Node& node = nodes_[at];
      const bool stands_itself = node.entry != nullptr && !node.voided && node.correction == kNone;
      node.shown = stands_itself ? at : node.correction;
      if (node.voids != kNone) {
        if (stands_itself) nodes_[node.voids].voided = true;
        release(node.voids);
      }
      if (node.corrects != kNone) {
        if (node.shown != kNone) offer(nodes_[node.corrects], node.shown);
        release(node.corrects);
      }
    }
  }

  HashMap<Logbook::Standing> fallen() const {
    HashMap<Logbook::Standing> fallen;
    // Backwards, so that what an entry corrects is known before the entry.
    std::vector<std::size_t> winner(nodes_.size(), kNone);
    for (auto at = order_.rbegin(); at != order_.rend(); ++at) {
      const Node& node = nodes_[*at];
      const bool has_place = node.corrects != kNone && nodes_[node.corrects].pointers_left == 0;
      winner[*at] = has_place ? winner[node.corrects] : node.shown;
      if (node.entry == nullptr || winner[*at] == *at) continue;
      fallen[node.entry->id.hash] = node.voided ? Logbook::Standing::voided : Logbook::Standing::corrected;
    }
    return fallen;
  }

 private:
  std::size_t node_of(const std::string& reference, const Entry* entry) {
    const auto [found, is_new] = index_.try_emplace(reference, nodes_.size());
    if (is_new) nodes_.push_back(Node{});
    if (entry != nullptr) nodes_[found->second].entry = entry;
    return found->second;
  }

  void release(std::size_t at) {
    if (--nodes_[at].pointers_left == 0) order_.push_back(at);
  }

  void offer(Node& node, std::size_t candidate) {
    if (node.correction == kNone || is_later(*nodes_[candidate].entry, *nodes_[node.correction].entry)) {
      node.correction = candidate;
    }
  }

  std::vector<Node> nodes_;
  std::vector<std::size_t> order_;
  std::unordered_map<std::string, std::size_t> index_;
};

}  // namespace

bool is_later(const Entry& a, const Entry& b) {
  return std::tie(a.lamport, a.id.device, a.id.number, a.id.hash) >
         std::tie(b.lamport, b.id.device, b.id.number, b.id.hash);
}

HashMap<Logbook::Standing> find_fallen(const Logbook& logbook, const std::vector<const Entry*>& pointing) {
  Tree tree(logbook, pointing);
  tree.settle();
  return tree.fallen();
}

}  // namespace tawny
