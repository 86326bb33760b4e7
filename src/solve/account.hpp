#pragma once
// The node account of a puzzle: every position visited is paid for, and a question may spend only its share.

#include "solve/verdict.hpp"

#include <algorithm>

namespace solve {

class Account {
  public:
    explicit Account(Nodes limit) : m_limit(limit), m_stop(limit) {}

    /// Pays for one position; false once the share of the question at hand is spent.
    [[nodiscard]] bool spend() {
        ++m_used;
        return m_used < m_stop;
    }
    [[nodiscard]] bool exhausted() const { return m_used >= m_stop; }
    [[nodiscard]] Nodes used() const { return m_used; }
    /// What the puzzle as a whole may still spend.
    [[nodiscard]] Nodes left() const { return m_used >= m_limit ? 0 : m_limit - m_used; }

    /// Narrows the account to one question for as long as it lives.
    class Share {
      public:
        Share(Account& account, Nodes nodes)
            : m_account(account), m_before(account.m_stop), m_start(account.m_used) {
            account.m_stop = std::min(account.m_stop, account.m_used + nodes);
        }
        ~Share() { m_account.m_stop = m_before; }
        Share(const Share&) = delete;
        Share& operator=(const Share&) = delete;
        [[nodiscard]] Nodes spent() const { return m_account.m_used - m_start; }

      private:
        Account& m_account;
        Nodes m_before;
        Nodes m_start;
    };

  private:
    Nodes m_used = 0;
    Nodes m_limit;
    Nodes m_stop;
};

} // namespace solve
