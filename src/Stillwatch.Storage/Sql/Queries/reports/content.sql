SELECT content, sha256 FROM reports WHERE number = @Number;
