INSERT INTO audit (number, at, by_actor, action, subject, detail_json, previous_hash, hash)
VALUES (@Number, @At, @ByActor, @Action, @Subject, @DetailJson, @PreviousHash, @Hash);
