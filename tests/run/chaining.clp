;;; An independent forward chainer for the belief algebra, in a general-purpose rule engine. It knows nothing of layers: a premise is
;;; judged as soon as all its clauses are, a claim is summed as soon as all its rules are judged. Facts come from tool_clips.c.
;;; The algebra: buchanan-shortliffe-1984, novak-emycin.

(deftemplate node (slot id) (slot kind) (slot test) (slot n))
(deftemplate child (slot of) (slot i) (slot node))
(deftemplate premise (slot rule) (slot node))
(deftemplate leaf (slot test) (slot known) (slot b))          ; readings against thresholds, given
(deftemplate believed (slot test) (slot claim) (slot above))
(deftemplate val (slot node) (slot known) (slot b))
(deftemplate join (slot node) (slot i) (slot sign) (slot any-known) (slot b) (slot any-unknown))
(deftemplate unit (slot claim) (slot u) (slot members))       ; contributions that count once
(deftemplate contribution (slot claim) (slot u) (slot k) (slot rule) (slot strength))
(deftemplate claim (slot id) (slot units))
(deftemplate pick (slot claim) (slot u) (slot k) (slot best) (slot fired) (slot open))
(deftemplate unit-done (slot claim) (slot u) (slot best) (slot fired) (slot open))
(deftemplate sum (slot claim) (slot u) (slot c) (slot fired) (slot open))
(deftemplate certainty (slot claim) (slot c) (slot known))

(deffunction parallel (?x ?y)
  (if (and (>= ?x 0) (>= ?y 0)) then (return (- (+ ?x ?y) (* ?x ?y))))
  (if (and (<= ?x 0) (<= ?y 0)) then (return (+ (+ ?x ?y) (* ?x ?y))))
  (return (/ (+ ?x ?y) (- 1 (min (abs ?x) (abs ?y))))))

(deffunction sign-of (?kind) (if (eq ?kind all) then (return -1)) (return 1))

(defrule leaf-node
  (node (id ?n) (kind leaf) (test ?t)) (leaf (test ?t) (known ?k) (b ?b))
  => (assert (val (node ?n) (known ?k) (b ?b))))

(defrule start-join
  (node (id ?n) (kind ?kind&~leaf))
  => (assert (join (node ?n) (i 0) (sign (sign-of ?kind)) (any-known no) (b 0.0) (any-unknown no))))

(defrule take-clause
  ?j <- (join (node ?n) (i ?i) (sign ?s) (any-known ?ak) (b ?b) (any-unknown ?au))
  (child (of ?n) (i ?i) (node ?m)) (val (node ?m) (known ?k) (b ?c))
  =>
  (if (eq ?k no)
    then (modify ?j (i (+ ?i 1)) (any-unknown yes))
    else (if (or (eq ?ak no) (> (* ?s ?c) (* ?s ?b)))
           then (modify ?j (i (+ ?i 1)) (any-known yes) (b ?c))
           else (modify ?j (i (+ ?i 1))))))

(deffunction judged (?kind ?ak ?b ?au)
  ; a clause that settles it, whatever is unknown
  (if (and (eq ?ak yes) (or (eq ?au no) (and (eq ?kind all) (<= ?b 0.2)) (and (neq ?kind all) (> ?b 0.2))))
    then (return yes))
  (return no))

(defrule end-join
  (node (id ?n) (kind ?kind&~leaf) (n ?count)) (join (node ?n) (i ?count) (any-known ?ak) (b ?b) (any-unknown ?au))
  => (assert (val (node ?n) (known (judged ?kind ?ak ?b ?au)) (b (if (eq ?kind none) then (- 0 ?b) else ?b)))))

(defrule start-unit (unit (claim ?c) (u ?u))
  => (assert (pick (claim ?c) (u ?u) (k 0) (best 0.0) (fired no) (open no))))

(defrule take-contribution
  ?p <- (pick (claim ?c) (u ?u) (k ?k) (best ?best) (fired ?f) (open ?o))
  (contribution (claim ?c) (u ?u) (k ?k) (rule ?r) (strength ?s)) (premise (rule ?r) (node ?n)) (val (node ?n) (known ?known) (b ?b))
  =>
  (if (eq ?known no)
    then (modify ?p (k (+ ?k 1)) (open yes))
    else (if (> ?b 0.2)
           then (modify ?p (k (+ ?k 1)) (fired yes)
                        (best (if (or (eq ?f no) (> (abs (* ?b ?s)) (abs ?best))) then (* ?b ?s) else ?best)))
           else (modify ?p (k (+ ?k 1))))))

(defrule end-unit
  (unit (claim ?c) (u ?u) (members ?m)) (pick (claim ?c) (u ?u) (k ?m) (best ?b) (fired ?f) (open ?o))
  => (assert (unit-done (claim ?c) (u ?u) (best ?b) (fired ?f) (open ?o))))

(defrule start-claim (claim (id ?c))
  => (assert (sum (claim ?c) (u 0) (c 0.0) (fired no) (open no))))

(defrule add-unit
  ?s <- (sum (claim ?c) (u ?u) (c ?x) (fired ?f) (open ?o))
  (unit-done (claim ?c) (u ?u) (best ?b) (fired ?uf) (open ?uo))
  =>
  (modify ?s (u (+ ?u 1)) (c (if (eq ?uf yes) then (parallel ?x ?b) else ?x))
          (fired (if (eq ?uf yes) then yes else ?f)) (open (if (eq ?uo yes) then yes else ?o))))

(defrule end-claim
  (claim (id ?c) (units ?n)) (sum (claim ?c) (u ?n) (c ?x) (fired ?f) (open ?o))
  => (assert (certainty (claim ?c) (c ?x) (known (if (eq ?f yes) then yes else (if (eq ?o yes) then no else yes))))))

(defrule believed-test
  (believed (test ?t) (claim ?c) (above ?a)) (certainty (claim ?c) (c ?x) (known ?k))
  => (assert (leaf (test ?t) (known ?k) (b (if (> ?x ?a) then ?x else (min ?x 0.2))))))

(deffunction report (?case)
  (do-for-all-facts ((?f certainty)) TRUE
    (format t "c %d %d %s %.15g%n" ?case ?f:claim ?f:known ?f:c)))
