function judgeAnswer(q, text) { return { grade: "unread", words: "stub" }; }
